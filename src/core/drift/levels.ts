import type { Axis } from '../axis.js';
import { levelOf } from './level-filter.js';
import type { WatchConfig } from './seen.js';
import type { WatchState } from './watch.js';

/** True register of every station against its aim now, known corrections included, reading scatter taken off; mm. null = never read. */
export const levels = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
): readonly ({ readonly mean_mm: number; readonly sd_mm: number } | null)[] =>
  config.stations.map((_, k) => {
    const s = state[axis];
    const f = s.filters[k] ?? null;
    if (f === null || (s.lastRead[k] ?? -1) < 0) return null;
    const l = levelOf(f);
    return { mean_mm: l.mean_mm + (s.turned[k] ?? 0), sd_mm: l.sd_mm };
  });
