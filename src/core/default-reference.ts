import type { JobStation } from './job.js';
import type { Press } from './press.js';

/**
 * The station the others are read against when the job names none: the print station farthest by web path from the die that has a mark to measure
 * (else one to look at); with no die in the job, the first print station along the web. null = no station has a readable mark.
 */
export const defaultReference = (press: Press, stations: readonly JobStation[]): string | null => {
  const readOf = new Map(stations.map(({ id, read }) => [id, read]));
  const inJob = press.stations.filter(({ id }) => readOf.has(id));
  const die = inJob.find(({ kind }) => kind === 'die');
  for (const wanted of ['measure', 'look']) {
    const marked = inJob.filter(({ id, kind }) => kind === 'print' && readOf.get(id) === wanted);
    const farthest = marked.reduce<(typeof marked)[number] | null>((best, station) => {
      if (best === null) return station;
      if (die === undefined) return best;
      return Math.abs(station.at_m - die.at_m) > Math.abs(best.at_m - die.at_m) ? station : best;
    }, null);
    if (farthest !== null) return farthest.id;
  }
  return null;
};
