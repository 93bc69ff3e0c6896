import { fail, ok, type Result } from '../result.js';
import { chisquareSurvival } from './distributions.js';

/**
 * Whether counts scatter more than chance alone makes them: if so, the usual limits are too tight and something else
 * (another ink, another roll, clusters of flaws) is in the counts.
 * How: each count against what its size leads one to expect, squared, over the variance chance gives it; the sum is
 * chi-square with n - 1 degrees of freedom when nothing but chance is at work. The ratio is the sum over n - 1; with
 * equal sizes it is the sample variance over the theoretical one.
 * In: `expected` counts and their `variance` under chance, one for each count. Out: ratio and p have no unit; p is the
 * chance of a ratio this large or larger.
 * Too few: a refusal below two counts. Errors: nothing expected anywhere is a refusal.
 * Source: R. A. Fisher (1925), Statistical Methods for Research Workers, 18, index of dispersion; D. B. Laney (2002).
 * Example: NIST 6.3.3.1 wafers (25 counts, mean 16) give ratio 1.578125, p 0.0357.
 */
export type Dispersion = {
  readonly ratio: number;
  readonly statistic: number;
  readonly df: number;
  readonly p: number;
};

export type CountMade = { readonly count: number; readonly expected: number; readonly variance: number };

export const dispersion = (counts: readonly CountMade[]): Result<Dispersion> => {
  if (counts.length < 2) return fail(`a dispersion test needs at least 2 counts, got ${counts.length}`);
  let statistic = 0;
  for (const { count, expected, variance } of counts) {
    if (!(variance > 0)) return fail('no count can scatter: the expected share is 0 or 1 everywhere');
    statistic += (count - expected) ** 2 / variance;
  }
  const df = counts.length - 1;
  return ok({ ratio: statistic / df, statistic, df, p: chisquareSurvival(statistic, df) });
};
