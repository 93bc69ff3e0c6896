import { binomialCdf } from './distributions.js';
import { normalQuantile } from './normal.js';

/**
 * The numbers of bad items between which luck stays when `items` are inspected and a share `share` of all is bad.
 * How: as for Poisson counts: smallest count exceeded with a chance of at most alpha, largest count with a chance of
 * at most alpha below it. The upper tail is the lower tail of the good items, so it keeps its precision.
 * In: items inspected (whole, 1 or more), share bad (0 to 1), alpha on each side. Out: counts of bad items.
 * Errors: anything outside throws.
 * Source: exact binomial tail probabilities, Johnson, Kemp and Kotz (2005), Univariate Discrete Distributions, 3.2.
 * Example: 50 items, share 0.2313, alpha 0.00135: limits 4 and 21.
 */
export type CountLimits = { readonly lower: number; readonly upper: number };

export const binomialLimits = (items: number, share: number, alpha: number): CountLimits => {
  if (!Number.isInteger(items) || items < 1) throw new RangeError(`items inspected must be 1 or more, got ${items}`);
  if (!(share >= 0 && share <= 1)) throw new RangeError(`a share must lie between 0 and 1, got ${share}`);
  if (!(alpha > 0 && alpha < 1)) throw new RangeError(`the chance allowed must lie between 0 and 1, got ${alpha}`);
  const centre = items * share;
  const reach = -normalQuantile(Math.max(alpha, 1e-300)) * Math.sqrt(centre * (1 - share));
  const within = (count: number): number => Math.max(0, Math.min(items, Math.floor(count)));
  let upper = within(centre + reach);
  while (upper > 0 && binomialAtLeast(upper, items, share) <= alpha) upper -= 1;
  while (binomialAtLeast(upper + 1, items, share) > alpha) upper += 1;
  let lower = within(centre - reach);
  while (lower > 0 && binomialCdf(lower - 1, items, share) > alpha) lower -= 1;
  while (binomialCdf(lower, items, share) <= alpha) lower += 1;
  return { lower, upper };
};

/** The chance of `count` or more bad items. */
export const binomialAtLeast = (count: number, items: number, share: number): number =>
  count <= 0 ? 1 : count > items ? 0 : binomialCdf(items - count, items, 1 - share);
