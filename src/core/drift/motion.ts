import type { Axis } from '../axis.js';
import { chanceOf, GOING, slopeOf, WANDERING } from './level-filter.js';
import type { WatchConfig } from './seen.js';
import type { WatchState } from './watch.js';

export type Motion = {
  /** Chance that the station goes at a steady slope; that it wanders. */
  readonly going: number;
  readonly wandering: number;
  /** Mean slope over everything it may be doing. */
  readonly slope_mm_per_check: number;
  readonly spacing_m: number;
};

/** How a station's register is going now; null = never read. */
export const motion = (config: WatchConfig, state: WatchState, axis: Axis, station: string): Motion | null => {
  const s = state[axis];
  const k = config.stations.findIndex((c) => c.id === station);
  const f = s.filters[k] ?? null;
  if (f === null || (s.lastRead[k] ?? -1) < 0) return null;
  return {
    going: chanceOf(f, [GOING]),
    wandering: chanceOf(f, WANDERING),
    slope_mm_per_check: slopeOf(f),
    spacing_m: s.spacing_m,
  };
};
