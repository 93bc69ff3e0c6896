import type { AxisState } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';
import { levelOf } from './level-filter.js';
import type { CorrectionRead } from './movement.js';
import type { WatchConfig } from './seen.js';
import { togetherMoved } from './together-moved.js';

/** What a correction asked and what the first sample that carries it shows was got. */
export const readCorrections = (
  lines: CauseLines,
  state: AxisState,
  config: WatchConfig,
  value: readonly (number | null)[],
  change: readonly number[],
  sigma: readonly number[],
): readonly CorrectionRead[] => {
  const many = lines.measured.filter((m) => m).length > 1;
  const together = many ? togetherMoved(lines, change) : 0;
  const got = (k: number): { readonly got: number; readonly variance: number } | null => {
    const z = value[k] ?? null;
    const f = state.filters[k] ?? null;
    if (z === null || f === null) return null;
    const before = levelOf(f);
    return { got: z - before.mean_mm + (change[k] ?? 0), variance: before.sd_mm ** 2 + (sigma[k] ?? 0) ** 2 };
  };
  if (together !== 0) {
    let sum = 0;
    let weight = 0;
    for (let k = 0; k < lines.n; k++) {
      const g = got(k);
      if (g === null) continue;
      sum += g.got / g.variance;
      weight += 1 / g.variance;
    }
    const reference = config.stations.find((s) => s.isReference);
    if (weight === 0 || reference === undefined) return [];
    return [{ station: reference.id, asked_mm: -together, got_mm: -sum / weight, sd_mm: Math.sqrt(1 / weight) }];
  }
  return config.stations.flatMap((s, k) => {
    const asked = change[k] ?? 0;
    if (Math.abs(asked) <= 1e-9) return [];
    const g = got(k);
    return g === null ? [] : [{ station: s.id, asked_mm: asked, got_mm: g.got, sd_mm: Math.sqrt(g.variance) }];
  });
};
