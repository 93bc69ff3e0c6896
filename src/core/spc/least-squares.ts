import { fail, ok, type Result } from '../result.js';
import { tQuantile } from './distributions.js';

/**
 * The straight line nearest to the readings, how sure its slope is, and where the next reading should fall.
 * How: least squares on deviations from the two means; standard errors from the residual scatter with n - 2 degrees of
 * freedom; intervals by Student's t.
 * In: x and y in any unit. Out: slope in y per x; standard errors and intervals (0.95 by default) in the same units.
 * Too few: a refusal below 3 readings (two always lie on a line). Errors: all x equal is a refusal.
 * Source: NIST/SEMATECH e-Handbook 1.3.6 and 4.1.4.1; checked on the certified values of NIST StRD Norris.
 * Example: Norris has slope 1.00211681802045 (se 4.29796848199937e-4) and residual sd 0.884796396144373.
 */
export type LeastSquares = {
  readonly n: number;
  readonly slope: number;
  readonly slopeSe: number;
  readonly slopeLow: number;
  readonly slopeHigh: number;
  readonly intercept: number;
  readonly interceptSe: number;
  readonly residualSd: number;
  readonly meanX: number;
  readonly meanY: number;
  readonly squaresX: number;
};

export type Interval = { readonly value: number; readonly low: number; readonly high: number };

export const leastSquares = (x: readonly number[], y: readonly number[], confidence = 0.95): Result<LeastSquares> => {
  const n = y.length;
  if (n < 3) return fail(`a line needs at least 3 readings, got ${n}`);
  const meanX = meanOf(x);
  const meanY = meanOf(y);
  let squaresX = 0;
  let products = 0;
  for (const [i, at] of x.entries()) {
    squaresX += (at - meanX) ** 2;
    products += (at - meanX) * ((y[i] ?? Number.NaN) - meanY);
  }
  if (!(squaresX > 0)) return fail(`all ${n} readings stand at one x: there is no slope`);
  const slope = products / squaresX;
  const intercept = meanY - slope * meanX;
  const residuals = x.map((at, i) => (y[i] ?? Number.NaN) - meanY - slope * (at - meanX));
  const residualSd = Math.sqrt(residuals.reduce((sum, e) => sum + e * e, 0) / (n - 2));
  const slopeSe = residualSd / Math.sqrt(squaresX);
  const reach = tQuantile(0.5 + confidence / 2, n - 2) * slopeSe;
  return ok({
    n,
    slope,
    slopeSe,
    slopeLow: slope - reach,
    slopeHigh: slope + reach,
    intercept,
    interceptSe: residualSd * Math.sqrt(1 / n + meanX ** 2 / squaresX),
    residualSd,
    meanX,
    meanY,
    squaresX,
  });
};

/** Where one more reading at `at` should fall: the line, and the interval it stays in with the given confidence. */
export const predict = (line: LeastSquares, at: number, confidence = 0.95): Interval => {
  const value = line.meanY + line.slope * (at - line.meanX);
  const away = (at - line.meanX) ** 2 / line.squaresX;
  const reach = tQuantile(0.5 + confidence / 2, line.n - 2) * line.residualSd * Math.sqrt(1 + 1 / line.n + away);
  return { value, low: value - reach, high: value + reach };
};

/** The mean in two passes: the second takes out what rounding left of the first. */
const meanOf = (values: readonly number[]): number => {
  const first = values.reduce((sum, value) => sum + value, 0) / values.length;
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
};
