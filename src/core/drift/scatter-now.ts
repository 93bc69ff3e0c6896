import type { Axis } from '../axis.js';
import { scatterOf } from './scatter.js';
import { scatterBelief } from './scatter-belief.js';
import type { WatchConfig } from './seen.js';
import type { WatchState } from './watch.js';

/** Check-to-check scatter (1 sigma, mm) as learned so far: all stations, each station, and the share of the variance that comes from the reference. */
export const scatter = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
): { readonly sigma_mm: number; readonly share_of_reference: number; readonly station_mm: readonly number[] } => {
  const s = scatterOf(state[axis].scatter, scatterBelief(config, axis));
  return { sigma_mm: s.pooled, share_of_reference: s.shared / (s.pooled * s.pooled), station_mm: s.sigma };
};
