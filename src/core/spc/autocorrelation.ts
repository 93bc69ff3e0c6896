import { addDouble, addDoubleDouble, type DoubleDouble, multiplyDoubleDouble } from './double-double.js';
import { addReading, moments } from './moments.js';

/**
 * How much each reading resembles the one `lag` readings before it: 1 the same, 0 nothing in common, -1 its opposite.
 * How: sum of products of deviations from the overall mean, divided by the sum of squared deviations, in two doubles.
 * In: readings in any unit, null where one is missing (its pairs are left out). Out: no unit, between -1 and 1.
 * Too few, or no scatter at all: null.
 * Source: NIST StRD univariate, definition of the lag-1 autocorrelation coefficient.
 * Example: 10000001, 10000003, 10000002 gives -0.5 at lag 1 (StRD NumAcc1).
 */
export const autocorrelation = (values: readonly (number | null)[], lag: number): number | null => {
  let state = moments.initial({});
  for (const value of values) if (value !== null) state = addReading(state, value);
  if (state.n < lag + 1 || state.squares[0] <= 0) return null;
  const deviations = values.map((value) =>
    value === null ? null : addDouble([-state.mean[0], -state.mean[1]], value * state.scale),
  );
  let products: DoubleDouble = [0, 0];
  for (let i = lag; i < deviations.length; i += 1) {
    const now = deviations[i] ?? null;
    const before = deviations[i - lag] ?? null;
    if (now !== null && before !== null) products = addDoubleDouble(products, multiplyDoubleDouble(now, before));
  }
  return products[0] / state.squares[0];
};
