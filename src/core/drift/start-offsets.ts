import type { CauseLines } from './cause-lines.js';
import type { Offset } from './entry.js';
import type { Scatter } from './scatter.js';

/**
 * By cause, how far off its aim it may stand from the first check on, when the aims are themselves one reading of the passed sample: a station by
 * as much as its own readings scatter (variance, mm²), the reference by what all share and the mean of theirs, the web by what of them lies along
 * it (mm² per m²). Such an offset is no movement, however long it stands.
 */
export const startOffsets = (lines: CauseLines, scatter: Scatter): readonly (Offset | null)[] => {
  const measured = lines.measured.flatMap((yes, k) => (yes ? [k] : []));
  const own = (k: number): number => scatter.own[k] ?? 0;
  const mean = measured.reduce((sum, k) => sum + own(k), 0) / Math.max(1, measured.length);
  const paths = measured.reduce((sum, k) => sum + (lines.path_m[k] ?? 0) ** 2, 0);
  const off = (variance: number): Offset => ({ from: 0, variance });
  return [
    ...lines.measured.map((yes, k) => (yes ? off(own(k)) : null)),
    off(scatter.shared + mean / Math.max(1, measured.length)),
    paths > 0 ? off(mean / paths) : null,
  ];
};
