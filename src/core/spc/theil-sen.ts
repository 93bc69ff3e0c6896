import { fail, ok, type Result } from '../result.js';
import { inversions } from './inversions.js';
import { normalQuantile } from './normal.js';
import { kendallSpread, tieGroups } from './tie-groups.js';

/**
 * A slope that a few wild readings cannot bend: the middle one of the slopes between all pairs of readings.
 * How: median of (y_j - y_i) / (x_j - x_i) over pairs with different x; the interval takes the slopes whose ranks lie
 * z standard deviations of Kendall's S (ties allowed for) on either side; the line goes through the median point.
 * Above 3000 readings the slopes are not listed: their ranks are counted (pairs in falling order of y - m x), and m
 * narrowed down to the last digits of a double.
 * In: x and y in any unit. Out: unit of y per unit of x; interval at `confidence` (0.95).
 * Too few: a refusal below 2 readings; the interval is null below 3. Errors: all x equal is a refusal.
 * Source: H. Theil (1950); P. K. Sen (1968), J. American Statistical Association 63, 1379-1389.
 * Example: the Nile 1871-1970 falls by 2.6 a year, interval -3.628 to -1.429.
 */
export type TheilSen = {
  readonly slope: number;
  readonly intercept: number;
  readonly low: number | null;
  readonly high: number | null;
};

export type TheilSenSettings = { readonly confidence?: number; readonly listUpTo?: number };

export const theilSen = (
  x: readonly number[],
  y: readonly number[],
  { confidence = 0.95, listUpTo = 3000 }: TheilSenSettings = {},
): Result<TheilSen> => {
  const n = y.length;
  if (n < 2) return fail(`a slope needs at least 2 readings, got ${n}`);
  const xTies = tieGroups(x);
  const count = (n * (n - 1)) / 2 - xTies.reduce((sum, k) => sum + (k * (k - 1)) / 2, 0);
  if (count === 0) return fail(`all ${n} readings stand at one x: there is no slope`);
  const points = x.map((at, i) => [at, y[i] ?? Number.NaN] as const).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const ranked = n <= listUpTo ? fromList(points, count) : fromRanks(points);
  const half = count >> 1;
  const slope = count % 2 === 1 ? ranked(half) : (ranked(half - 1) + ranked(half)) / 2;
  const intercept = middle(y) - slope * middle(x);
  const variance = (kendallSpread(n) - spreadOf(xTies) - spreadOf(tieGroups(y))) / 18;
  if (n < 3 || !(variance > 0)) return ok({ slope, intercept, low: null, high: null });
  const reach = normalQuantile(0.5 + confidence / 2) * Math.sqrt(variance);
  const within = (rank: number): number => Math.max(0, Math.min(count - 1, rank));
  return ok({
    slope,
    intercept,
    low: ranked(within(roundToEven((count - reach) / 2) - 1)),
    high: ranked(within(roundToEven((count + reach) / 2))),
  });
};

type Points = readonly (readonly [number, number])[];

/** The slope of a rank (0 the smallest), from the sorted list of all slopes. */
const fromList = (points: Points, count: number): ((rank: number) => number) => {
  const slopes = new Float64Array(count);
  let next = 0;
  for (const [i, [xi, yi]] of points.entries()) {
    for (const [xj, yj] of points.slice(i + 1)) {
      if (xj === xi) continue;
      slopes[next] = (yj - yi) / (xj - xi);
      next += 1;
    }
  }
  slopes.sort();
  return (rank) => slopes[rank] ?? Number.NaN;
};

/** The same, by halving the interval that holds the slope until nothing lies between its ends. */
const fromRanks = (points: Points): ((rank: number) => number) => {
  let least = Number.POSITIVE_INFINITY;
  const ys = [...points].map(([, y]) => y).sort((a, b) => a - b);
  for (let i = 1; i < points.length; i += 1) {
    const run = (points[i]?.[0] ?? 0) - (points[i - 1]?.[0] ?? 0);
    if (run > 0) least = Math.min(least, run);
  }
  const steepest = ((ys.at(-1) ?? 0) - (ys[0] ?? 0)) / least;
  const below = (slope: number): number => inversions(points.map(([x, y]) => y - slope * x));
  return (rank) => {
    let low = -steepest - 1;
    let high = steepest + 1;
    for (let turn = 0; turn < 200; turn += 1) {
      const between = low + (high - low) / 2;
      if (between <= low || between >= high || high - low <= 1e-15 * Math.abs(between)) break;
      if (below(between) > rank) high = between;
      else low = between;
    }
    return low + (high - low) / 2;
  };
};

const spreadOf = (groups: readonly number[]): number => groups.reduce((sum, k) => sum + kendallSpread(k), 0);

const middle = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
};

const roundToEven = (value: number): number => {
  const whole = Math.round(value);
  return Math.abs(value - Math.trunc(value)) === 0.5 && whole % 2 !== 0 ? whole - 1 : whole;
};
