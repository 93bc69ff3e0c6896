import { rangeMoments } from './range-distribution.js';

/**
 * The numbers that turn an average range or an average standard deviation of small groups into limits.
 * How: d2 and d3 are mean and sd of the range of n normal readings, by integration; c4 from the gamma function by its
 * recurrence; the rest follow with 3-sigma limits, e.g. A2 = 3 / (d2 sqrt n), D4 = 1 + 3 d3 / d2.
 * In: n, readings in a group, 2 or more. Out: no unit.
 * Errors: n below 2 or not whole throws.
 * Source: ASTM E2587 and D. C. Montgomery, Introduction to Statistical Quality Control, Appendix VI (n = 2 to 25).
 * Example: n = 5 gives d2 2.326, d3 0.864, c4 0.9400, A2 0.577, D4 2.114.
 */
export type Constants = {
  readonly n: number;
  readonly d2: number;
  readonly d3: number;
  readonly c4: number;
  readonly A: number;
  readonly A2: number;
  readonly A3: number;
  readonly B3: number;
  readonly B4: number;
  readonly B5: number;
  readonly B6: number;
  readonly D1: number;
  readonly D2: number;
  readonly D3: number;
  readonly D4: number;
  readonly E2: number;
  readonly E3: number;
};

export const constants = (n: number, width = 3): Constants => {
  const known = n === 2 ? { d2: D2_OF_TWO, d3: D3_OF_TWO } : rangeConstants(n);
  const { d2, d3 } = known;
  const c4 = meanSdOfGroup(n);
  const spread = Math.sqrt(1 - c4 * c4);
  return {
    n,
    d2,
    d3,
    c4,
    A: width / Math.sqrt(n),
    A2: width / (d2 * Math.sqrt(n)),
    A3: width / (c4 * Math.sqrt(n)),
    B3: Math.max(0, 1 - (width * spread) / c4),
    B4: 1 + (width * spread) / c4,
    B5: Math.max(0, c4 - width * spread),
    B6: c4 + width * spread,
    D1: Math.max(0, d2 - width * d3),
    D2: d2 + width * d3,
    D3: Math.max(0, 1 - (width * d3) / d2),
    D4: 1 + (width * d3) / d2,
    E2: width / d2,
    E3: width / c4,
  };
};

/** Mean range of two readings over their scatter, 2/sqrt(pi): what turns a mean moving range into sigma. */
export const D2_OF_TWO = 2 / Math.sqrt(Math.PI);
export const D3_OF_TWO = Math.sqrt(2 - 4 / Math.PI);

/**
 * c4: the mean of the sample sd of n normal readings, over their scatter. By c4(n) c4(n + 1) = sqrt((n - 1) / n), up to
 * 400 readings; beyond, by the series in 1/(n - 1), good to 15 digits there.
 */
export const meanSdOfGroup = (n: number): number => {
  if (!Number.isInteger(n) || n < 2) throw new RangeError(`a standard deviation needs at least 2 readings, got ${n}`);
  if (n > 400) {
    const u = 1 / (n - 1);
    return Math.exp(-u / 4 + u ** 3 / 24 - u ** 5 / 20);
  }
  let c4 = Math.sqrt(2 / Math.PI);
  for (let size = 2; size < n; size += 1) c4 = Math.sqrt((size - 1) / size) / c4;
  return c4;
};

/** Worked out once a size; the same size always gives the same numbers. */
const worked = new Map<number, { readonly d2: number; readonly d3: number }>();

const rangeConstants = (n: number): { readonly d2: number; readonly d3: number } => {
  const before = worked.get(n);
  if (before !== undefined) return before;
  const { mean, sd } = rangeMoments(n);
  const found = { d2: mean, d3: sd };
  worked.set(n, found);
  return found;
};
