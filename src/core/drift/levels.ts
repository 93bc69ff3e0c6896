import type { Axis } from '../axis.js';
import { likeliestLevel } from './level-filter.js';
import type { WatchConfig } from './seen.js';
import type { WatchState } from './watch.js';

/** Accounts of a station that differ by more sigmas than this are not averaged. */
const APART = 4;

/** True register of every station against its aim now, known corrections included, reading scatter taken off; mm. null = never read. */
export const levels = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
): readonly ({ readonly mean_mm: number; readonly sd_mm: number } | null)[] => {
  const s = state[axis];
  return config.stations.map((_, k) => {
    const f = s.filters[k] ?? null;
    if (f === null || (s.lastRead[k] ?? -1) < 0) return null;
    const l = likeliestLevel(f, APART * (s.known.sigma[k] ?? s.known.pooled));
    return { mean_mm: l.mean_mm + (s.turned[k] ?? 0), sd_mm: l.sd_mm };
  });
};
