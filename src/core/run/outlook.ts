import type { Axis } from '../axis.js';
import { forecast, reach } from '../drift/forecast.js';
import { levels } from '../drift/levels.js';
import type { ReachLimit } from '../finding.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { Judged } from './state.js';
import { toleranceIn } from './tolerance-in.js';
import { watchConfig } from './watch-config.js';

/** How far ahead a crossing of the limit is looked for, in distances between checks. */
export const HORIZON_CHECKS = 40;

/** What is foreseen of one station: where it truly is now, where at the next check, when it reaches its limit. */
export type StationOutlook = {
  /** Estimate of the true register now, without reading scatter. */
  readonly level_mm: number | null;
  /** Expected at the next check with its 80 % interval; null = not enough readings. */
  readonly next: {
    readonly mean_mm: number;
    readonly low_mm: number;
    readonly high_mm: number;
    readonly p_out: number;
  } | null;
  readonly reach: ReachLimit | null;
};

/** From the watch that saw the last check; nulls while there are not enough readings. */
export const outlookOf = (
  press: Press,
  job: Job,
  judged: Judged,
  axis: Axis,
  station: string,
  next_m: number | null,
): StationOutlook => {
  const watch = judged.watch[judged.watch.latest];
  const here_m = judged.last_check?.web_m ?? 0;
  if (watch === null) return { level_mm: null, next: null, reach: null };
  const config = watchConfig(press, job, judged, judged.watch.latest);
  const index = config.stations.findIndex((s) => s.id === station);
  const tolerance = toleranceIn(judged, station, axis);
  const to_m = Math.max(next_m ?? here_m, here_m);
  const ahead_m = Math.max(to_m - here_m, judged.spacing_m ?? 0, 1);
  return {
    level_mm: levels(config, watch, axis)[index]?.mean_mm ?? null,
    next: forecast(config, watch, axis, station, to_m, tolerance),
    reach: reach(config, watch, axis, station, tolerance, HORIZON_CHECKS * ahead_m),
  };
};
