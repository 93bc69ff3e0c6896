import type { Axis, PerAxis } from '../axis.js';
import type { WatchConfig } from './seen.js';
import type { WatchState } from './watch.js';

export type ScatterNow = {
  /** Check-to-check scatter, 1 sigma, all stations together. */
  readonly sigma_mm: number;
  /** Share of its variance that all readings have in common: it comes from the reference. */
  readonly share_of_reference: number;
  /** By station, in the order of the configuration. */
  readonly station_mm: readonly number[];
};

/** The scatter as learned so far, starting from the job's belief. */
export const scatter = (_config: WatchConfig, state: WatchState): PerAxis<ScatterNow> => {
  const one = (axis: Axis): ScatterNow => {
    const s = state[axis].known;
    return { sigma_mm: s.pooled, share_of_reference: s.shared / (s.pooled * s.pooled), station_mm: s.sigma };
  };
  return { along: one('along'), across: one('across') };
};
