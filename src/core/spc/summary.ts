import { fail, ok, type Result } from '../result.js';
import { autocorrelation } from './autocorrelation.js';
import { addReading, moments, momentsOf } from './moments.js';

/**
 * What a column of readings looks like: how many, where they centre, how far they scatter, how much each resembles the
 * one before.
 * How: `moments` folded over the readings, and `autocorrelation` at lag 1. Missing readings (null) are left out.
 * Out: in the unit of the readings; `lag1` has none and is null when nothing scatters.
 * Too few: a refusal below two readings, there is no scatter to speak of.
 * Source: NIST StRD univariate (certified values of mean, sd and lag-1). Example: StRD Lottery has mean
 * 518.958715596330 and sd 291.699727470969.
 */
export type Summary = {
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
  readonly lag1: number | null;
  readonly min: number;
  readonly max: number;
};

export const summary = (values: readonly (number | null)[]): Result<Summary> => {
  let state = moments.initial({});
  for (const value of values) {
    if (value === null) continue;
    if (!Number.isFinite(value)) return fail(`${value} is not a number that can be charted; leave it blank if missing`);
    state = addReading(state, value);
  }
  const { n, mean, sd, min, max } = momentsOf(state);
  if (mean === null || sd === null || min === null || max === null) {
    return fail(`a summary needs at least 2 readings, got ${n}`);
  }
  return ok({ n, mean, sd, lag1: autocorrelation(values, 1), min, max });
};
