import type { AxisState } from './axis-state.js';
import { type CauseLines, push } from './cause-lines.js';
import { levelOf } from './level-filter.js';
import type { Scatter } from './scatter.js';

/**
 * How far the levels lie from `from` in the direction of a cause, by weighted least squares over the stations: mm (web: mm per m).
 * null when no station that the cause moves has been read.
 */
export const along = (
  lines: CauseLines,
  scatter: Scatter,
  filters: AxisState['filters'],
  from: readonly number[],
  cause: number,
): { readonly mean: number; readonly sd: number } | null => {
  let num = 0;
  let info = 0;
  let shared = 0;
  for (let k = 0; k < lines.n; k++) {
    const f = filters[k] ?? null;
    const p = push(lines, cause, k);
    if (f === null || p === 0) continue;
    const l = levelOf(f);
    const v = Math.max(l.sd_mm * l.sd_mm, 1e-12);
    num += (p * (l.mean_mm - (from[k] ?? 0))) / v;
    info += (p * p) / v;
    shared += (p * Math.sqrt(scatter.shared)) / v / ((scatter.sigma[k] ?? scatter.pooled) / Math.sqrt(v));
  }
  if (info === 0) return null;
  const common = cause === lines.n || cause === lines.n + 1 ? (shared / info) ** 2 : 0;
  return { mean: num / info, sd: Math.sqrt(1 / info + common) };
};
