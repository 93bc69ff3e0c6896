import { fail, ok, type Result } from '../result.js';
import { D2_OF_TWO } from './constants.js';
import { addReading, moments, momentsOf } from './moments.js';

/**
 * Scatter from one reading to the next, which a slow wander of the process does not inflate.
 * How: mean absolute difference of neighbouring readings, divided by 2/sqrt(pi). A missing reading (null) takes the two
 * differences beside it with it.
 * In: readings in any unit. Out: sigma and the moving ranges in that unit.
 * Too few: a refusal when no two neighbouring readings exist.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.2. Example: the NIST flow rate has mean moving range 1.8778, sigma 1.6641.
 */
export type MovingRange = {
  readonly sigma: number;
  readonly mean: number;
  /** Beside each reading but the first: its distance from the one before, null where either is missing. */
  readonly ranges: readonly (number | null)[];
};

export const movingRange = (values: readonly (number | null)[]): Result<MovingRange> => {
  const ranges = values.slice(1).map((value, i) => {
    const before = values[i] ?? null;
    return value === null || before === null ? null : Math.abs(value - before);
  });
  let state = moments.initial({});
  for (const range of ranges) if (range !== null) state = addReading(state, range);
  const { mean } = momentsOf(state);
  if (mean === null) return fail('the scatter needs at least 2 neighbouring readings; give sigma, or more readings');
  return ok({ sigma: mean / D2_OF_TWO, mean, ranges });
};
