import { fail, ok, type Result } from '../result.js';
import { inversions } from './inversions.js';
import { normalSurvival } from './normal.js';
import { kendallSpread, tieGroups } from './tie-groups.js';

/**
 * Do the readings tend to rise or fall, whatever the shape of the rise and however odd single readings are?
 * How: S counts pairs that rise minus pairs that fall; its variance allows for equal readings (and equal x); z moves S
 * one towards 0 before dividing; p is two-sided. Pairs are counted by sorting, so long records cost n log n.
 * In: x (their order is what counts) and y in any unit. Out: no unit.
 * Too few: a refusal below 3 readings (fewer cannot vary S). Errors: all readings equal, or all x equal, is a refusal.
 * Source: H. B. Mann (1945), Econometrica 13, 245-259; M. G. Kendall (1975), Rank Correlation Methods, 4;
 * US EPA QA/G-9S (2006). Example: the EPA's 11 readings give S 22, variance 155.33, z 1.685.
 */
export type MannKendall = {
  readonly s: number;
  readonly variance: number;
  readonly z: number;
  readonly p: number;
  /** How many readings stand in each group of equal readings (groups of two or more). */
  readonly tieGroups: readonly number[];
};

export const mannKendall = (y: readonly number[], x?: readonly number[]): Result<MannKendall> => {
  const n = y.length;
  if (n < 3) return fail(`a trend test needs at least 3 readings, got ${n}`);
  const order = x === undefined ? y.map((value, at) => [at, value] as const) : pairsOf(x, y);
  const xTies = tieGroups(order.map(([at]) => at));
  const yTies = tieGroups(y);
  if (yTies[0] === n) return fail(`all ${n} readings are ${y[0]}: there is no scatter to judge a trend by`);
  if (xTies[0] === n) return fail(`all ${n} readings stand at one x: there is no trend to judge`);
  const s = risingMinusFalling(order);
  const variance =
    (kendallSpread(n) - sum(xTies, kendallSpread) - sum(yTies, kendallSpread)) / 18 +
    (sum(xTies, triples) * sum(yTies, triples)) / (9 * triples(n)) +
    (sum(xTies, pairs) * sum(yTies, pairs)) / (2 * pairs(n));
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  return ok({ s, variance, z, p: Math.min(1, 2 * normalSurvival(Math.abs(z))), tieGroups: yTies });
};

const pairs = (k: number): number => k * (k - 1);
const triples = (k: number): number => k * (k - 1) * (k - 2);
const sum = (groups: readonly number[], of: (k: number) => number): number =>
  groups.reduce((total, k) => total + of(k), 0);

const pairsOf = (x: readonly number[], y: readonly number[]): readonly (readonly [number, number])[] =>
  x.map((at, i) => [at, y[i] ?? Number.NaN] as const);

/** Rising pairs minus falling ones, pairs of equal x left out: all pairs less ties less twice the falling ones. */
const risingMinusFalling = (points: readonly (readonly [number, number])[]): number => {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const n = sorted.length;
  const falling = inversions(sorted.map(([, y]) => y));
  const sameX = sum(tieGroups(points.map(([x]) => x)), pairs) / 2;
  const sameY = sum(tieGroups(points.map(([, y]) => y)), pairs) / 2;
  const joint = new Map<string, number>();
  for (const [x, y] of points) joint.set(`${x}|${y}`, (joint.get(`${x}|${y}`) ?? 0) + 1);
  const same = [...joint.values()].reduce((total, k) => total + pairs(k) / 2, 0);
  return pairs(n) / 2 - sameX - sameY + same - 2 * falling;
};
