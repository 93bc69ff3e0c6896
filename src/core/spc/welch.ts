import { fail, ok, type Result } from '../result.js';
import { tCdf, tQuantile } from './distributions.js';
import { summary } from './summary.js';

/**
 * Did the mean step between two stretches of readings, when their scatter need not be the same?
 * How: difference of the means over its own standard error; degrees of freedom after Welch and Satterthwaite; the
 * pooled form (one common scatter) stands beside it.
 * In: two stretches, or their n, mean and sd, in one unit. Out: difference a - b and its interval (0.95) in that unit.
 * Too few: a refusal below 2 readings in a stretch. Errors: no scatter in either stretch is a refusal.
 * Source: B. L. Welch (1947), Biometrika 34, 28-35; NIST/SEMATECH e-Handbook 1.3.5.3.
 * Example: AUTO83B gives T -12.946 with 136.875 degrees of freedom (pooled -12.621).
 */
export type Stretch = { readonly n: number; readonly mean: number; readonly sd: number };

export type StepTest = {
  readonly difference: number;
  readonly t: number;
  readonly df: number;
  readonly p: number;
  readonly low: number;
  readonly high: number;
  readonly pooled: { readonly t: number; readonly df: number; readonly sd: number; readonly p: number };
};

export const welch = (a: readonly number[], b: readonly number[], confidence = 0.95): Result<StepTest> => {
  const before = summary(a);
  if (!before.ok) return before;
  const after = summary(b);
  if (!after.ok) return after;
  return welchOf(before.value, after.value, confidence);
};

export const welchOf = (a: Stretch, b: Stretch, confidence = 0.95): Result<StepTest> => {
  if (a.n < 2 || b.n < 2) return fail(`a step test needs 2 readings on each side, got ${a.n} and ${b.n}`);
  const ofA = a.sd ** 2 / a.n;
  const ofB = b.sd ** 2 / b.n;
  if (!(ofA + ofB > 0)) return fail('neither stretch scatters: there is nothing to judge a step by');
  const difference = a.mean - b.mean;
  const se = Math.sqrt(ofA + ofB);
  const df = (ofA + ofB) ** 2 / (ofA ** 2 / (a.n - 1) + ofB ** 2 / (b.n - 1));
  const reach = tQuantile(0.5 + confidence / 2, df) * se;
  const pooledDf = a.n + b.n - 2;
  const pooledSd = Math.sqrt(((a.n - 1) * a.sd ** 2 + (b.n - 1) * b.sd ** 2) / pooledDf);
  const pooledT = difference / (pooledSd * Math.sqrt(1 / a.n + 1 / b.n));
  return ok({
    difference,
    t: difference / se,
    df,
    p: bothTails(difference / se, df),
    low: difference - reach,
    high: difference + reach,
    pooled: { t: pooledT, df: pooledDf, sd: pooledSd, p: bothTails(pooledT, pooledDf) },
  });
};

const bothTails = (t: number, df: number): number => 2 * tCdf(-Math.abs(t), df);
