import type { Cause } from '../finding.js';
import type { Station } from './stations.js';

/** Stations whose readings a cause moves. */
export const reachedBy = (cause: Cause, stations: readonly Station[], reference: string): readonly string[] => {
  if (cause.kind === 'station') return [cause.station];
  if (cause.kind === 'several') return cause.stations;
  return stations.flatMap((s) => (s.id === reference || s.read !== 'measure' ? [] : [s.id]));
};
