import { type CauseLines, push } from './cause-lines.js';
import type { Entry, Offset } from './entry.js';
import type { Scatter } from './scatter.js';

/**
 * What the small constant offsets, with which a run seems to have started, take from the evidence.
 * `expected`: the offset of each station as now thought, to be taken off its readings; `lost`: by cause, the share of the information of a
 * movement that was there from the first check (it cannot be told from an offset of that size).
 */
export type StartConstants = { readonly expected: readonly number[]; readonly lost: readonly number[] };

/** Before this many checks a small offset cannot be told from scatter. */
const AT_LEAST = 6;
/** Means of quiet stations scatter by chance alone: only what exceeds this multiple of that counts. */
const BEYOND_CHANCE = 2.4;

/**
 * A first-off set within the reading error, or held to the passed sample, is never quite zero on any station: that is no movement.
 *
 * How large such offsets typically are is taken from the stations' means over the window: what the reference and the web have in common
 * is taken off, and the largest left out (it may be a movement). The offsets are then unknowns of that variance, independent by station
 * and one for the reference, estimated together with the covariance of the readings. null when chance explains the means, with fewer
 * than 4 stations or 6 checks. In mm.
 */
export const startConstants = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  offsets: readonly (Offset | null)[],
): StartConstants | null => {
  if (entries.length < AT_LEAST) return null;
  const variance = typicalVariance(lines, scatter, entries, offsets);
  if (variance === null) return null;
  const { n } = lines;
  const precision = matrix(n);
  const score = new Array<number>(n).fill(0);
  let like: Entry | null = null;
  let times = 0;
  for (const e of entries) {
    addScore(lines, scatter, e, score);
    if (like !== null && sameReads(like, e)) {
      times += 1;
      continue;
    }
    if (like !== null) addPrecision(lines, scatter, like, times, precision);
    like = e;
    times = 1;
  }
  if (like !== null) addPrecision(lines, scatter, like, times, precision);
  // Prior: variance × (I + 11'), over the measured stations; its inverse is (I − 11'/(m + 1)) / variance.
  const m = lines.measured.filter((x) => x).length;
  const whole = precision.map((row, a) =>
    row.map((x, b) => {
      if (lines.measured[a] !== true || lines.measured[b] !== true) return a === b ? 1 : 0;
      return x + ((a === b ? 1 : 0) - 1 / (m + 1)) / variance;
    }),
  );
  const causes = lines.names.map((_, cause) => {
    const d = lines.measured.map((yes, k) => (yes && (lines.prior[cause] ?? 0) > 0 ? push(lines, cause, k) : 0));
    const c = precision.map((row) => row.reduce((sum, x, k) => sum + x * (d[k] ?? 0), 0));
    return { c, all: c.reduce((sum, x, k) => sum + x * (d[k] ?? 0), 0) };
  });
  const [expected = [], ...solved] = solve(whole, [score, ...causes.map((x) => x.c)]);
  const lost = causes.map(({ c, all }, cause) =>
    all > 0 ? c.reduce((sum, x, k) => sum + x * (solved[cause]?.[k] ?? 0), 0) / all : 0,
  );
  return { expected, lost };
};

const typicalVariance = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  offsets: readonly (Offset | null)[],
): number | null => {
  const means: { readonly mean: number; readonly path: number; readonly chance: number }[] = [];
  for (let k = 0; k < lines.n; k++) {
    if (lines.measured[k] !== true || (offsets[k] ?? null) !== null) continue;
    let sum = 0;
    let n = 0;
    for (const e of entries) {
      const z = e.value[k] ?? null;
      if (z === null || (e.blind.length > 0 && e.blind.includes(k))) continue;
      sum += z;
      n += 1;
    }
    if (n >= AT_LEAST) means.push({ mean: sum / n, path: lines.path_m[k] ?? 0, chance: (scatter.own[k] ?? 0) / n });
  }
  const m = means.length;
  if (m < 4) return null;
  const path = means.reduce((a, s) => a + s.path, 0) / m;
  const mean = means.reduce((a, s) => a + s.mean, 0) / m;
  const spread = means.reduce((a, s) => a + (s.path - path) ** 2, 0);
  const slope = spread > 0 ? means.reduce((a, s) => a + (s.path - path) * (s.mean - mean), 0) / spread : 0;
  const squares = means.map((s) => (s.mean - mean - slope * (s.path - path)) ** 2);
  const chance = means.reduce((a, s) => a + s.chance, 0) / m;
  // Of m residuals two degrees of freedom go to the common line and one to the leaving out; the rest are small by selection.
  const typical = (squares.reduce((a, x) => a + x, 0) - Math.max(...squares)) / Math.max(1, (m - 3) * 0.75);
  const beyond = typical - BEYOND_CHANCE * chance;
  return beyond > 0 ? beyond : null;
};

/** Whether two checks read the same stations and are blind to the same causes. */
const sameReads = (a: Entry, b: Entry): boolean =>
  a.blind.length === b.blind.length &&
  a.blind.every((c, i) => b.blind[i] === c) &&
  a.value.every((z, k) => (z === null) === ((b.value[k] ?? null) === null));

type Sums = {
  readonly w: readonly number[];
  readonly g: number;
  readonly h: number;
  readonly gz: number;
  readonly gp: number;
  readonly webScore: number;
};

/** Sums over the stations read at a check, and what its shared scatter and blind directions take off. */
const sumsOf = (lines: CauseLines, scatter: Scatter, e: Entry): Sums => {
  const w = new Array<number>(lines.n).fill(0);
  let sw = 0;
  let swz = 0;
  let swp = 0;
  let swpp = 0;
  let swpz = 0;
  for (let k = 0; k < lines.n; k++) {
    const z = e.value[k] ?? null;
    if (z === null || (e.blind.length > 0 && e.blind.includes(k))) continue;
    const x = 1 / (scatter.own[k] ?? 1);
    const p = lines.path_m[k] ?? 0;
    w[k] = x;
    sw += x;
    swz += x * z;
    swp += x * p;
    swpp += x * p * p;
    swpz += x * p * z;
  }
  const g = sw === 0 ? 0 : e.blind.includes(lines.n) ? 1 / sw : 1 / (1 / scatter.shared + sw);
  const web = swpp - g * swp * swp;
  const h = e.blind.includes(lines.n + 1) && web > 1e-9 * swpp ? 1 / web : 0;
  return { w, g, h, gz: g * swz, gp: g * swp, webScore: swpz - g * swp * swz };
};

const addScore = (lines: CauseLines, scatter: Scatter, e: Entry, score: number[]): void => {
  const { w, h, gz, gp, webScore } = sumsOf(lines, scatter, e);
  for (let k = 0; k < lines.n; k++) {
    const wk = w[k] ?? 0;
    if (wk === 0) continue;
    const vk = wk * ((lines.path_m[k] ?? 0) - gp);
    score[k] = (score[k] ?? 0) + wk * ((e.value[k] ?? 0) - gz) - h * vk * webScore;
  }
};

/** Adds the precision of the readings of so many checks like this one, blind directions projected out. */
const addPrecision = (lines: CauseLines, scatter: Scatter, e: Entry, times: number, precision: number[][]): void => {
  const { w, g, h, gp } = sumsOf(lines, scatter, e);
  const v = w.map((x, k) => x * ((lines.path_m[k] ?? 0) - gp));
  precision.forEach((row, k) => {
    const wk = w[k] ?? 0;
    if (wk === 0) return;
    const vk = v[k] ?? 0;
    for (let i = 0; i < lines.n; i++) {
      const wi = w[i] ?? 0;
      if (wi !== 0) row[i] = (row[i] ?? 0) + times * ((i === k ? wk : 0) - g * wk * wi - h * vk * (v[i] ?? 0));
    }
  });
};

const matrix = (n: number): number[][] => Array.from({ length: n }, () => new Array<number>(n).fill(0));

/** Solves a positive definite system for several right-hand sides by Gaussian elimination. */
const solve = (
  a: readonly (readonly number[])[],
  sides: readonly (readonly number[])[],
): readonly (readonly number[])[] => {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...sides.map((b) => b[i] ?? 0)]);
  const width = n + sides.length;
  for (let p = 0; p < n; p++) {
    const pivotRow = m[p] ?? [];
    const pivot = pivotRow[p] ?? 1;
    for (let r = p + 1; r < n; r++) {
      const row = m[r] ?? [];
      const f = (row[p] ?? 0) / pivot;
      if (f === 0) continue;
      for (let c = p; c < width; c++) row[c] = (row[c] ?? 0) - f * (pivotRow[c] ?? 0);
    }
  }
  return sides.map((_, s) => {
    const x = new Array<number>(n).fill(0);
    for (let p = n - 1; p >= 0; p--) {
      const row = m[p] ?? [];
      let sum = row[n + s] ?? 0;
      for (let c = p + 1; c < n; c++) sum -= (row[c] ?? 0) * (x[c] ?? 0);
      x[p] = sum / (row[p] ?? 1);
    }
    return x;
  });
};
