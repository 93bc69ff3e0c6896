import type { CauseLines } from './cause-lines.js';
import type { Entry, Gone } from './entry.js';
import type { Scatter } from './scatter.js';
import { weighAll } from './weigh.js';

/** Adds the checks that leave the window: an offset from the start would have shown in them too, a movement since would not. */
export const withGone = (lines: CauseLines, scatter: Scatter, gone: Gone, leaving: readonly Entry[]): Gone => {
  if (leaving.length === 0) return gone;
  const causes = lines.n + 2;
  const w = weighAll(lines, scatter, leaving, false);
  const add = (sums: readonly number[], by: Float64Array): readonly number[] =>
    sums.map((s, j) => leaving.reduce((sum, _, t) => sum + (by[t * causes + j] ?? 0), s));
  return { score: add(gone.score, w.score), information: add(gone.information, w.information) };
};

/** The level of these causes is set anew: what is gone says nothing of it. */
export const forget = (gone: Gone, causes: readonly number[]): Gone => ({
  score: gone.score.map((s, j) => (causes.includes(j) ? 0 : s)),
  information: gone.information.map((s, j) => (causes.includes(j) ? 0 : s)),
});
