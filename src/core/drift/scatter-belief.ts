import type { Axis } from '../axis.js';
import type { ScatterBelief } from './scatter.js';
import type { WatchConfig } from './seen.js';

/** Readings rounded to the gauge's mark cannot scatter less than the rounding hides. */
const FLOOR_OF_RESOLUTION = 0.4;

/** What the job believes of the scatter on this axis. */
export const scatterBelief = (config: WatchConfig, axis: Axis): ScatterBelief => {
  const floor = FLOOR_OF_RESOLUTION * config.resolution_mm;
  return {
    sigma: Math.max(config.spread_mm[axis], floor, 1e-6),
    worth_checks: config.spread_worth_checks,
    floor: Math.max(floor, 1e-6),
  };
};
