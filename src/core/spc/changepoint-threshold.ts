import { BOTH_SHAPES, DEFAULT_WINDOW } from './changepoint.js';
import type { ChangeShape } from './changepoint-fit.js';
import { limitForRunLength } from './limit-for-run-length.js';
import { changepointRunLengthFormula } from './run-length-changepoint.js';
import { simulatedRunLength } from './simulated-run-length.js';

/**
 * The threshold of a changepoint chart for an asked mean run length without any change, and run lengths at a threshold.
 * How: the asymptotic formula times what simulation says it is off by, for steps, ramps or both, at fifteen
 * thresholds (window 60, aim and scatter known; interpolated, and held beyond the last). With a shift or a drift: simulation with
 * seeded numbers.
 * In: readings (asked); shifts in sigmas; window in readings. Out: threshold without unit; run length in readings with
 * its standard error (about 1.5 % for the table up to 30,000 readings).
 * Errors: a threshold outside 1.5 to 12 gives NaN.
 * Source: `changepointRunLengthFormula`; the simulated factors are our own, 154 million readings, and are simulated anew
 * in the tests. Example: asked 370, steps and ramps, window 60: threshold 3.42.
 */
export type ChangepointScheme = { readonly window?: number; readonly shapes?: readonly ChangeShape[] };

export const changepointThreshold = (asked: number, scheme: ChangepointScheme = {}): number =>
  limitForRunLength((threshold) => falseRunLength(threshold, scheme), asked, 3.5) ?? Number.NaN;

export type ChangepointRunLength = { readonly length: number; readonly error: number };

export const changepointRunLength = (
  threshold: number,
  options: ChangepointScheme & { readonly shift?: number; readonly drift?: number; readonly seed?: number },
): ChangepointRunLength => {
  const { shift = 0, drift = 0, seed = 1, window = DEFAULT_WINDOW, shapes = BOTH_SHAPES } = options;
  if (shift === 0 && drift === 0) {
    const length = falseRunLength(threshold, options);
    return { length, error: TABLE_ERROR * length };
  }
  const run = { threshold, shift, drift, window, shapes, seed };
  const pilot = simulatedRunLength({ ...run, runs: 20 });
  const runs = Math.max(100, Math.min(10_000, Math.round(READINGS_TO_SIMULATE / pilot.mean)));
  const { mean, standardError } = simulatedRunLength({ ...run, runs });
  return { length: mean, error: standardError };
};

const READINGS_TO_SIMULATE = 1_000_000;
const TABLE_ERROR = 0.015;

const falseRunLength = (
  threshold: number,
  { window = DEFAULT_WINDOW, shapes = BOTH_SHAPES }: ChangepointScheme,
): number => {
  if (!(threshold >= 1.5 && threshold <= 12)) return Number.NaN;
  const factors = shapes.length > 1 ? FACTORS.both : shapes[0] === 'ramp' ? FACTORS.ramp : FACTORS.step;
  return changepointRunLengthFormula(threshold, window) * factorAt(factors, threshold);
};

/** Simulated run length over the formula, from threshold 1.5 to 5 by quarters. */
const FACTORS = {
  step: [0.419, 0.562, 0.694, 0.806, 0.887, 0.948, 0.986, 0.993, 0.996, 0.999, 0.99, 0.996, 1, 1, 1],
  ramp: [0.587, 0.793, 0.982, 1.143, 1.298, 1.42, 1.515, 1.57, 1.615, 1.655, 1.745, 1.81, 1.9, 1.98, 2.06],
  both: [0.413, 0.552, 0.676, 0.781, 0.853, 0.909, 0.934, 0.938, 0.931, 0.921, 0.907, 0.896, 0.89, 0.884, 0.88],
};

const factorAt = (factors: readonly number[], threshold: number): number => {
  const place = Math.min(factors.length - 1, Math.max(0, (threshold - 1.5) / 0.25));
  const below = Math.min(factors.length - 2, Math.floor(place));
  const [a = 1, b = 1] = factors.slice(below, below + 2);
  return a + (b - a) * (place - below);
};
