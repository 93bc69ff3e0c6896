import { fail, ok, type Result } from '../result.js';
import { autocorrelation } from './autocorrelation.js';
import { momentsOver } from './moments.js';

/**
 * How each reading of a sensor follows from the readings before it, and what is new in it.
 * How: autoregression by the Yule-Walker equations (Levinson-Durbin), its order the one with the least Schwarz criterion.
 * The autocorrelation of few readings comes out too low; at order 1 it is put right by (1 + 3 r) / n (Kendall).
 * In: readings in any unit, at even spacing, none missing. Out: mean, coefficients (newest first), sigma of what is
 * new, and the long-run standard deviation sigma / (1 - sum of coefficients): root n times the standard error of a mean
 * of n readings, for large n.
 * Too few: a refusal below 20 readings. No scatter: a refusal.
 * Source: G. E. P. Box and G. M. Jenkins, Time Series Analysis, section 3.2; J. Durbin (1960), Rev. Int. Statist. Inst.
 * 28, 233-244; G. Schwarz (1978), Ann. Statist. 6, 461-464; M. G. Kendall (1954), Biometrika 41, 403-404 (bias).
 * Example: Nile flow at order 1: coefficient 0.523, of which 0.025 is the correction.
 */
export type Autoregression = {
  /** Readings it was fitted to. */
  readonly n: number;
  readonly mean: number;
  readonly coefficients: readonly number[];
  readonly sigma: number;
  readonly longRunSd: number;
};

export const fitAutoregression = (values: readonly number[], most = 6): Result<Autoregression> => {
  const n = values.length;
  const { mean, variance } = momentsOver(values);
  if (n < 20 || mean === null || variance === null)
    return fail(`an autoregression needs at least 20 readings, got ${n}`);
  if (!(variance > 0)) return fail('the readings do not scatter');
  const r = Array.from({ length: most + 1 }, (_, lag) => (lag === 0 ? 1 : (autocorrelation(values, lag) ?? 0)));
  let best: { readonly coefficients: readonly number[]; readonly left: number; readonly score: number } | null = null;
  let coefficients: readonly number[] = [];
  let left = 1;
  for (let order = 0; order <= most; order += 1) {
    if (order > 0) [coefficients, left] = oneMore(coefficients, left, r, order);
    const score = n * Math.log(left) + Math.log(n) * order;
    if (best === null || score < best.score) best = { coefficients, left, score };
  }
  const chosen = unbiased(best?.coefficients ?? [], n);
  const sigma = Math.sqrt(variance * (best?.left ?? 1) * (n / Math.max(1, n - chosen.length - 1)) * ((n - 1) / n));
  return ok({
    n,
    mean,
    coefficients: chosen,
    sigma,
    longRunSd: sigma / (1 - chosen.reduce((sum, part) => sum + part, 0)),
  });
};

/** One step of Levinson and Durbin: the coefficients of the next order, and the share of variance left. */
const oneMore = (
  before: readonly number[],
  left: number,
  r: readonly number[],
  order: number,
): [readonly number[], number] => {
  const missed = before.reduce((sum, part, i) => sum - part * (r[order - 1 - i] ?? 0), r[order] ?? 0);
  const newest = missed / left;
  const coefficients = before.map((part, i) => part - newest * (before[before.length - 1 - i] ?? 0));
  return [[...coefficients, newest], left * (1 - newest * newest)];
};

const unbiased = (coefficients: readonly number[], n: number): readonly number[] => {
  const only = coefficients[0];
  if (coefficients.length !== 1 || only === undefined) return coefficients;
  return [Math.min(0.99, only + (1 + 3 * only) / n)];
};
