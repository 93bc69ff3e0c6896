import { chisquareCdf, poissonCdf } from './distributions.js';
import { normalQuantile } from './normal.js';

/**
 * The counts between which an event that strikes at random stays, whatever the mean: which count of flaws is a signal
 * and which is luck. The 3-sigma limits are wrong where counts are low (with 0.5 flaws a sample they cry wolf at 3,
 * one sample in 70).
 * How: the upper limit is the smallest count that is exceeded with a chance of at most alpha; the lower limit the
 * largest count that has a chance of at most alpha below it. Counts beyond a limit are signals, counts on it are not.
 * Tails are taken from the chi-square distribution, so they keep their precision when alpha is tiny.
 * In: mean count (0 or more) and alpha, the chance allowed on that side (0 to 1, both excluded). Out: counts.
 * Errors: a mean that is negative or not finite, or an alpha outside, throws.
 * Source: exact Poisson tail probabilities, Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, 4.2.
 * Example: poissonUpperLimit(0.5, 0.00135) = 4, so 5 or more is a signal, with a chance of 0.000172.
 */
export const poissonUpperLimit = (mean: number, alpha: number): number => {
  check(mean, alpha);
  let count = Math.max(0, Math.floor(mean + normalQuantile(1 - Math.max(alpha, 1e-15)) * Math.sqrt(mean)));
  while (count > 0 && poissonAtLeast(count, mean) <= alpha) count -= 1;
  while (poissonAtLeast(count + 1, mean) > alpha) count += 1;
  return count;
};

export const poissonLowerLimit = (mean: number, alpha: number): number => {
  check(mean, alpha);
  let count = Math.max(0, Math.floor(mean + normalQuantile(Math.max(alpha, 1e-300)) * Math.sqrt(mean)));
  while (count > 0 && poissonCdf(count - 1, mean) > alpha) count -= 1;
  while (poissonCdf(count, mean) <= alpha) count += 1;
  return count;
};

/** The chance of `count` or more. */
export const poissonAtLeast = (count: number, mean: number): number =>
  count <= 0 ? 1 : mean === 0 ? 0 : chisquareCdf(2 * mean, 2 * count);

const check = (mean: number, alpha: number): void => {
  if (!Number.isFinite(mean) || mean < 0) throw new RangeError(`a mean count must be 0 or more, got ${mean}`);
  if (!(alpha > 0 && alpha < 1)) throw new RangeError(`the chance allowed must lie between 0 and 1, got ${alpha}`);
};
