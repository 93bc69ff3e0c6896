import { inverseOf, type Square } from './inverse.js';
import { matrixOf, type Readings, type Row, rowsOf, type Turn } from './spread.js';

/** What may have moved: one station (its place in the list), the reference, the web, or nothing but one reading. */
export type Mover =
  | { readonly kind: 'station'; readonly station: number }
  | { readonly kind: 'reference' }
  | { readonly kind: 'web' }
  | { readonly kind: 'reading'; readonly check: number; readonly station: number };

/** One change that all readings together bear out. */
export type Change = {
  readonly mover: Mover;
  /** The first check that shows it, and the last at which a drift still went on; a step has both alike. */
  readonly from: number;
  readonly until: number;
  /** How far, mm, + ahead / + operator side; web: mm for each metre of path. */
  readonly mm: number;
  readonly sd_mm: number;
  /** Probability that this is what moved, of all that may have moved there, or nothing (0 to 1). */
  readonly share: number;
};

/**
 * What moved in a stretch of a run, told from all its readings at once, those after it as well: which a judgement at the press cannot have.
 * Readings are taken as normal about unknown standing offsets, with own and shared scatter, a slow wander of station, reference and web, and
 * turns of knobs that gave a fifth more or less than asked. On that, every single change (cause, first check, step or drift) is weighed by its Bayes factor with a normal
 * size; the best is taken in, and the next is sought with it, until none is likelier than none. Then each is weighed anew with the others in.
 * Costs (checks × stations)³ once and (checks × stations)² a change. Fewer than three checks: none.
 * Source: Bayes factors of nested linear models (Jeffreys, Theory of Probability, 1961, ch. 5; from memory); taking the best in one after
 * another is matching pursuit (Mallat and Zhang, 1993; from memory). Sizes and rates expected of a press: own choice, no source.
 * Example: five stations still for six checks, then one 0.20 mm ahead for six, scatter 0.03 mm: that station, 0.20 mm, share above 0.99.
 */
export const changesIn = (readings: Readings, turns: readonly Turn[]): readonly Change[] => {
  if (readings.checks.length < 3) return [];
  const rows = rowsOf(readings);
  if (rows.length === 0) return [];
  const y = rows.map((row) => row.mm);
  let precision = inverseOf(matrixOf(readings, rows, turns));
  const taken: Candidate[] = [];
  for (let round = 0; round < MOST; round += 1) {
    const best = bestOf(weighed(readings, rows, precision, y));
    if (best === null || best.odds <= 0) break;
    taken.push(best);
    precision = with_(precision, shapeOf(best, rows, readings), best.size_mm);
  }
  return taken.map((one): Change => {
    const without = with_(precision, shapeOf(one, rows, readings), one.size_mm, -1);
    const near = weighed(readings, rows, without, y).filter((c) => beside(c, one));
    const best: Weighed = bestOf(near) ?? { ...one, odds: 0, mm: 0, sd_mm: one.size_mm };
    const top = Math.max(0, ...near.map((c) => c.odds));
    const sum = (list: readonly Weighed[]): number => list.reduce((s, c) => s + Math.exp(c.odds - top), 0);
    const mine = near.filter((c) => sameMover(c.mover, best.mover));
    return {
      mover: best.mover,
      from: best.from,
      until: best.until,
      mm: best.mm,
      sd_mm: best.sd_mm,
      share: sum(mine) / (sum(near) + Math.exp(-top)),
    };
  });
};

type Candidate = {
  readonly mover: Mover;
  readonly from: number;
  readonly until: number;
  readonly size_mm: number;
};
type Weighed = Candidate & { readonly odds: number; readonly mm: number; readonly sd_mm: number };

/** More changes than this in one stretch are not told apart (own choice). */
const MOST = 24;
/** Sizes expected, 1 sigma: a station or reference; of the web, at the farthest station; a misread. */
const MOVED_MM = 0.15;
const MISREAD_MM = 0.25;
/** How often each is expected, natural logarithm of the chance a check, a mover. */
const RATE = { step: Math.log(0.03), ramp: Math.log(0.006), reading: Math.log(0.003) };
/** Drifts are tried over so many checks, and to the end. */
const DRIFTS = [3, 6, 12] as const;
/** Changes this many checks apart may be the same one. */
const NEAR = 3;

const beside = (a: Candidate, b: Candidate): boolean => Math.abs(a.from - b.from) <= NEAR;

const sameMover = (a: Mover, b: Mover): boolean => JSON.stringify(a) === JSON.stringify(b);

const bestOf = (all: readonly Weighed[]): Weighed | null =>
  all.reduce<Weighed | null>((best, c) => (best === null || c.odds > best.odds ? c : best), null);

/** What a mover does to each station for one millimetre of its own. */
const direction = (mover: Mover, { stations }: Readings): readonly number[] => {
  if (mover.kind === 'station') return stations.map((_, k) => (k === mover.station ? 1 : 0));
  if (mover.kind === 'reference') return stations.map(() => -1);
  return stations.map((s) => (mover.kind === 'web' ? s.path_m : 0));
};

/** How much of it a check shows, from nothing before it to all after it. */
export const grown = (from: number, until: number, check: number): number =>
  check < from ? 0 : check >= until ? 1 : (check - from + 1) / (until - from + 1);

const shapeOf = ({ mover, from, until }: Candidate, rows: readonly Row[], readings: Readings): readonly number[] => {
  if (mover.kind === 'reading')
    return rows.map((r) => (r.check === mover.check && r.station === mover.station ? 1 : 0));
  const way = direction(mover, readings);
  return rows.map((r) => (way[r.station] ?? 0) * grown(from, until, r.check));
};

/** Every single change that may be taken in next. */
const weighed = (
  readings: Readings,
  rows: readonly Row[],
  precision: Square,
  y: readonly number[],
): readonly Weighed[] => {
  const n = rows.length;
  const py = rows.map((_, i) => dot(precision, i, y));
  const checks = readings.checks.length;
  const far = Math.max(1e-9, ...readings.stations.map((s) => Math.abs(s.path_m)));
  const movers: readonly Mover[] = [
    ...readings.stations.map((_, station): Mover => ({ kind: 'station', station })),
    { kind: 'reference' },
    { kind: 'web' },
  ];
  const all: Weighed[] = [];
  for (const mover of movers) {
    const way = direction(mover, readings);
    // Rows and columns of one check are summed first: a profile over checks then costs checks², whatever the stations.
    const q = new Float64Array(checks * checks);
    const b = new Float64Array(checks);
    for (let i = 0; i < n; i += 1) {
      const ri = rows[i];
      const wi = ri === undefined ? 0 : (way[ri.station] ?? 0);
      if (ri === undefined || wi === 0) continue;
      b[ri.check] = (b[ri.check] ?? 0) + wi * (py[i] ?? 0);
      for (let j = 0; j < n; j += 1) {
        const rj = rows[j];
        const wj = rj === undefined ? 0 : (way[rj.station] ?? 0);
        if (rj === undefined || wj === 0) continue;
        const at = ri.check * checks + rj.check;
        q[at] = (q[at] ?? 0) + wi * wj * (precision[i * n + j] ?? 0);
      }
    }
    const size_mm = mover.kind === 'web' ? MOVED_MM / far : MOVED_MM;
    for (let from = readings.from_ok ? 0 : 1; from < checks; from += 1)
      for (const until of endsOf(from, checks)) {
        const rate = until === from ? RATE.step : RATE.ramp;
        all.push({ mover, from, until, size_mm, ...factor(...over(q, b, checks, from, until), size_mm, rate) });
      }
  }
  for (const [i, row] of rows.entries()) {
    const mover: Mover = { kind: 'reading', check: row.check, station: row.station };
    const f = factor(precision[i * n + i] ?? 0, py[i] ?? 0, MISREAD_MM, RATE.reading);
    all.push({ mover, from: row.check, until: row.check, size_mm: MISREAD_MM, ...f });
  }
  return all;
};

/** A profile over checks against the matrix and against the vector. */
const over = (q: Float64Array, b: Float64Array, checks: number, from: number, until: number): [number, number] => {
  let a = 0;
  let by = 0;
  for (let i = from; i < checks; i += 1) {
    const gi = grown(from, until, i);
    let row = 0.5 * gi * (q[i * checks + i] as number);
    for (let j = i + 1; j < checks; j += 1)
      row += (j >= until ? 1 : grown(from, until, j)) * (q[i * checks + j] as number);
    a += 2 * gi * row;
    by += gi * (b[i] as number);
  }
  return [a, by];
};

const endsOf = (from: number, checks: number): readonly number[] => [
  ...new Set([from, ...DRIFTS.map((d) => from + d), checks - 1].filter((u) => u < checks)),
];

/** Log of Bayes factor times expected rate, and the size then likeliest. */
const factor = (a: number, b: number, s: number, rate: number): Pick<Weighed, 'odds' | 'mm' | 'sd_mm'> => {
  const more = 1 + s * s * a;
  return {
    odds: rate - 0.5 * Math.log(more) + (0.5 * s * s * b * b) / more,
    mm: (s * s * b) / more,
    sd_mm: s / Math.sqrt(more),
  };
};

const dot = (m: Square, row: number, v: readonly number[]): number => {
  let sum = 0;
  for (let j = 0; j < v.length; j += 1) sum += (m[row * v.length + j] ?? 0) * (v[j] ?? 0);
  return sum;
};

/** Inverse after the covariance has gained (`sign` 1) or lost (−1) size² × shape × shape' (Sherman and Morrison, 1950). */
const with_ = (precision: Square, shape: readonly number[], size_mm: number, sign = 1): Square => {
  const n = shape.length;
  const ps = shape.map((_, i) => dot(precision, i, shape));
  const a = shape.reduce((s, v, i) => s + v * (ps[i] ?? 0), 0);
  const w = (sign * size_mm * size_mm) / (1 + sign * size_mm * size_mm * a);
  const out = new Float64Array(precision);
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) out[i * n + j] = (out[i * n + j] ?? 0) - w * (ps[i] ?? 0) * (ps[j] ?? 0);
  return out;
};
