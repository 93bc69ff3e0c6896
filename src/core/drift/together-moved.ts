import type { CauseLines } from './cause-lines.js';

/** The common change of all measured stations, 0 if they did not change alike: a move of the reference. */
export const togetherMoved = (lines: CauseLines, change: readonly number[]): number => {
  let common: number | null = null;
  for (let k = 0; k < lines.n; k++) {
    if (lines.measured[k] !== true) continue;
    const c = change[k] ?? 0;
    if (common === null) common = c;
    else if (Math.abs(common - c) > 1e-9) return 0;
  }
  return common ?? 0;
};
