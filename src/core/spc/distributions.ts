import { compiled, erfc, igam, igamc, igami, incbet, incbi, lgam, ndtri } from 'cephes';

await compiled;

/**
 * The distributions that the statistics ask, each by the special function that keeps its small tail: never 1 minus a value near 1.
 * The functions come from Cephes (S. L. Moshier 1989, Methods and Programs for Mathematical Functions), compiled once on loading.
 * Where they are held: tests/core/spc/distributions.test.ts, against mpmath with 40 digits. Relative error below 1e-12 for up to
 * some hundred degrees of freedom, 1e-9 for a million.
 * What is not a number stays so. Degrees of freedom, counts and means not above 0 are the caller's error and give NaN.
 */

/**
 * The chance of a normal value at most `value`, standard unless mean and sd are given; an sd of 0 is a step at the mean. For the
 * upper tail mirror it. Example: normalCdf(-3) = 0.0013498980316300946.
 */
export const normalCdf = (value: number, mean = 0, sd = 1): number => {
  if (sd === 0) return value < mean ? 0 : 1;
  const below = (mean - value) / (sd * Math.SQRT2);
  return Math.abs(below) > LAST_ERFC ? (below > 0 ? 0 : 1) : 0.5 * erfc(below);
};

// Cephes throws where a result is smaller than a double can hold; such a chance is 0 here.
const LAST_ERFC = 26.6;
const LAST_LOG = -700;

/** The z below which the share p lies; minus and plus infinity at 0 and 1, NaN outside. Example: normalQuantile(0.975) = 1.95996398454. */
export const normalQuantile = (p: number): number =>
  p > 0 && p < 1 ? ndtri(p) : p === 0 ? Number.NEGATIVE_INFINITY : p === 1 ? Number.POSITIVE_INFINITY : Number.NaN;

/**
 * The chance of a Student t at most t. How: the incomplete beta function of whichever of t²/(df + t²) and df/(df + t²) is the
 * smaller, so that neither a far tail nor a t near 0 loses its digits (Abramowitz and Stegun 1964, 26.7.1).
 */
export const tCdf = (t: number, df: number): number => {
  if (!(df > 0) || Number.isNaN(t)) return Number.NaN;
  if (t > 0) return 1 - tCdf(-t, df);
  const square = t * t;
  if (square < df) return 0.5 * incompleteBeta(0.5, df / 2, square / (df + square), 'upper');
  return square === Number.POSITIVE_INFINITY ? 0 : 0.5 * incompleteBeta(df / 2, 0.5, df / (df + square), 'lower');
};

/** The t below which the share p lies. Example: tQuantile(0.975, 10) = 2.2281388519649385 (t table: 2.228). */
export const tQuantile = (p: number, df: number): number => {
  if (!(p >= 0 && p <= 1 && df > 0)) return Number.NaN;
  if (p > 0.5) return -tQuantile(1 - p, df);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 0.5) return 0;
  if (p > 0.25) {
    const near = incbi(0.5, df / 2, 1 - 2 * p);
    return -Math.sqrt((df * near) / (1 - near));
  }
  const far = incbi(df / 2, 0.5, 2 * p);
  return -Math.sqrt((df * (1 - far)) / far);
};

/** The chance of an F ratio at most f (Abramowitz and Stegun 26.6.2). For the upper tail ask 1/f with the degrees exchanged. */
export const fCdf = (f: number, above: number, below: number): number => {
  if (!(above > 0 && below > 0) || Number.isNaN(f)) return Number.NaN;
  if (f <= 0) return 0;
  if (f === Number.POSITIVE_INFINITY) return 1;
  return incompleteBeta(above / 2, below / 2, (above * f) / (above * f + below), 'lower');
};

/** The chance of a sum of squares at most x. */
export const chisquareCdf = (x: number, df: number): number =>
  !(df > 0) || Number.isNaN(x) ? Number.NaN : x <= 0 ? 0 : incompleteGamma(df / 2, x / 2, 'lower');

/**
 * The chance of a sum of squares above x, itself, so that it keeps its digits far out (Abramowitz and Stegun 26.4.19).
 * Example: chisquareSurvival(88, 10) = 1.33354e-14.
 */
export const chisquareSurvival = (x: number, df: number): number =>
  !(df > 0) || Number.isNaN(x) ? Number.NaN : x <= 0 ? 1 : incompleteGamma(df / 2, x / 2, 'upper');

/** The sum of squares below which the share p lies. Example: chisquareQuantile(0.95, 1) = 3.84145882069 (table: 3.841). */
export const chisquareQuantile = (p: number, df: number): number => {
  if (!(p >= 0 && p <= 1 && df > 0)) return Number.NaN;
  return p === 0 ? 0 : p === 1 ? Number.POSITIVE_INFINITY : 2 * igami(df / 2, 1 - p);
};

/** The chance of `count` or fewer when `mean` are expected: the upper tail of a chi-square (Abramowitz and Stegun 26.4.21). */
export const poissonCdf = (count: number, mean: number): number =>
  count < 0 ? 0 : chisquareSurvival(2 * mean, 2 * (Math.floor(count) + 1));

/** The chance of `count` or fewer among `items` of which a share `share` is meant (Abramowitz and Stegun 26.5.24). */
export const binomialCdf = (count: number, items: number, share: number): number => {
  const whole = Math.floor(count);
  if (Number.isNaN(share) || Number.isNaN(count)) return Number.NaN;
  if (whole < 0) return 0;
  return whole >= items ? 1 : incompleteBeta(items - whole, whole + 1, 1 - share, 'lower');
};

const incompleteBeta = (a: number, b: number, x: number, side: 'lower' | 'upper'): number => {
  if (!(x >= 0 && x <= 1)) return Number.NaN;
  const lower = incbet(a, b, x);
  return side === 'lower' ? lower : 1 - lower;
};

const incompleteGamma = (a: number, x: number, side: 'lower' | 'upper'): number => {
  const vanishes = x === Number.POSITIVE_INFINITY || a * Math.log(x) - x - lgam(a) < LAST_LOG;
  if (vanishes) return x > a === (side === 'lower') ? 1 : 0;
  return side === 'lower' ? igam(a, x) : igamc(a, x);
};
