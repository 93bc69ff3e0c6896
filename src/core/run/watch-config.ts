import type { WatchConfig } from '../drift/seen.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { Judged } from './state.js';
import { isMeasured, stationsOf } from './stations.js';

/** What the watch must know of this run; made anew when the reference changes. */
export const watchConfig = (
  press: Press,
  job: Job,
  judged: Pick<Judged, 'reference' | 'ok'>,
  source: 'keyed' | 'sensor',
): WatchConfig => {
  const stations = stationsOf(press, job);
  const reference_m = stations.find((s) => s.id === judged.reference)?.at_m ?? 0;
  return {
    stations: stations.map((s) => ({
      id: s.id,
      path_m: s.at_m - reference_m,
      isReference: s.id === judged.reference,
      measured: isMeasured(s, judged),
    })),
    resolution_mm: job.reading.resolution_mm,
    spread_mm: job.reading.spread_mm,
    spread_worth_checks: job.reading.spread_worth_checks,
    asked: source === 'sensor' ? job.false_notice.sensor : job.false_notice.keyed,
    aims_read: judged.ok?.hold_to === 'sample',
    stands_off: source === 'sensor' || judged.ok?.hold_to === 'sample',
  };
};
