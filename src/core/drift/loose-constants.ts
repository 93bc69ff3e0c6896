import type { Entry, Offset } from './entry.js';
import { crossing, type Weighed } from './weigh.js';

/** A constant along a cause's direction, not quite known, that other scores must not be blamed for; one row of the inverse. */
export type Loose = {
  readonly cause: number;
  readonly first: number;
  readonly mean: number;
  readonly row: readonly number[];
};

/** The constants together: their best estimate and its covariance (information matrix of at most three, inverted). */
export const looseConstants = (
  w: Weighed,
  entries: readonly Entry[],
  offsets: readonly (Offset | null)[],
  of: readonly number[],
  n: number,
): readonly Loose[] => {
  if (of.length === 0) return [];
  const causes = n + 2;
  const score = of.map(() => 0);
  const matrix = of.map((c, a) => of.map((_, b) => (a === b ? 1 / Math.max(offsets[c]?.variance ?? 0, 1e-12) : 0)));
  const first = of.map(() => entries.length);
  for (let t = entries.length - 1; t >= 0; t--) {
    const at = entries[t]?.at ?? 0;
    of.forEach((c, a) => {
      if (at < (offsets[c]?.from ?? 0)) return;
      first[a] = t;
      score[a] = (score[a] ?? 0) + (w.score[t * causes + c] ?? 0);
      of.forEach((d, b) => {
        const row = matrix[a];
        if (row === undefined || at < (offsets[d]?.from ?? 0)) return;
        row[b] = (row[b] ?? 0) + crossing(w, n, t, c, d);
      });
    });
  }
  const inverse = invert(matrix);
  return of.map((cause, a) => ({
    cause,
    first: first[a] ?? 0,
    mean: score.reduce((sum, s, b) => sum + s * (inverse[a]?.[b] ?? 0), 0),
    row: inverse[a] ?? [],
  }));
};

/** What the constants take from a score that crosses them so. */
export const takenFromScore = (cross: readonly number[], of: readonly Loose[]): number =>
  of.reduce((sum, d, q) => sum + d.mean * (cross[q] ?? 0), 0);

/** … and from its information. */
export const takenFromInformation = (cross: readonly number[], of: readonly Loose[]): number =>
  of.reduce((sum, d, q) => sum + (cross[q] ?? 0) * d.row.reduce((s, r, b) => s + r * (cross[b] ?? 0), 0), 0);

/** Inverse of a small positive definite matrix, Gauss–Jordan. */
const invert = (matrix: readonly (readonly number[])[]): readonly (readonly number[])[] => {
  const n = matrix.length;
  const m = matrix.map((row, a) => [...row, ...row.map((_, b) => (a === b ? 1 : 0))]);
  for (let p = 0; p < n; p++) {
    const pivotRow = m[p] ?? [];
    const pivot = pivotRow[p] ?? 1;
    const scaled = pivotRow.map((x) => x / pivot);
    m[p] = scaled;
    for (let r = 0; r < n; r++) {
      if (r === p) continue;
      const f = m[r]?.[p] ?? 0;
      m[r] = (m[r] ?? []).map((x, c) => x - f * (scaled[c] ?? 0));
    }
  }
  return m.map((row) => row.slice(n));
};
