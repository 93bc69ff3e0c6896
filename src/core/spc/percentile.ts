import { fail, ok, type Result } from '../result.js';

/**
 * The reading below which a given share of all readings lies.
 * How: straight line between neighbouring ordered readings, by one of three published places: R6 at p (n + 1) (NIST's
 * own), R7 at 1 + p (n - 1), R8 at 1/3 + p (n + 1/3), nearly unbiased for the median of that share. Beyond the first or
 * last reading the first or last is given.
 * In: readings in any unit; share between 0 and 1. Out: that unit. Too few: a refusal without any reading.
 * Source: R. J. Hyndman and Y. Fan (1996), American Statistician 50, 361-365; NIST/SEMATECH e-Handbook 7.2.6.2.
 * Example: NIST's 12 wafers have a 90th percentile of 95.1981 by R6, 95.1957 by R7, 95.1972 by R8.
 */
export type PercentileRule = 'R6' | 'R7' | 'R8';

export const percentile = (values: readonly number[], share: number, rule: PercentileRule = 'R8'): Result<number> => {
  if (values.length === 0) return fail('a percentile needs at least 1 reading');
  if (!(share >= 0 && share <= 1)) return fail(`a share must lie between 0 and 1, got ${share}`);
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  const place = Math.max(1, Math.min(n, placeOf(rule, share, n)));
  const below = Math.floor(place);
  const low = sorted[below - 1] ?? Number.NaN;
  const high = sorted[Math.min(below, n - 1)] ?? low;
  return ok(low + (place - below) * (high - low));
};

const placeOf = (rule: PercentileRule, share: number, n: number): number => {
  if (rule === 'R6') return share * (n + 1);
  if (rule === 'R7') return 1 + share * (n - 1);
  return 1 / 3 + share * (n + 1 / 3);
};
