import { DEFAULT_WINDOW } from './changepoint.js';
import { type ChangeShape, fitChange } from './changepoint-fit.js';
import { seededNumbers } from './seeded-numbers.js';

/**
 * How many readings a changepoint chart takes until it signals, by simulation with seeded numbers: aim and scatter
 * known, the readings normal, steady or drifting from the first one.
 * In: threshold without unit; shift and drift a reading in sigmas; how many runs; a seed. A run that reaches
 * `mostReadings` is counted as that long.
 * Out: the mean over the runs and its standard error, in readings; the same seed gives the same answer everywhere.
 * Source: the method of `changepoint`, run over and over. Example: threshold 3, steps only: 124 (s.e. 1).
 */
export type SimulatedRunLength = { readonly mean: number; readonly standardError: number; readonly runs: number };

export type SimulationOptions = {
  readonly threshold: number;
  readonly shift?: number;
  readonly drift?: number;
  readonly window?: number;
  readonly shapes: readonly ChangeShape[];
  readonly runs: number;
  readonly seed: number;
  readonly mostReadings?: number;
};

export const simulatedRunLength = (options: SimulationOptions): SimulatedRunLength => {
  const { normal } = seededNumbers(options.seed);
  const { runs } = options;
  let sum = 0;
  let squares = 0;
  for (let run = 0; run < runs; run += 1) {
    const length = oneRun(options, normal);
    sum += length;
    squares += length * length;
  }
  const mean = sum / runs;
  return { mean, standardError: Math.sqrt(Math.max(0, squares / runs - mean * mean) / runs), runs };
};

const NOTHING_BEFORE = { n: 0, sum: 0 };

const oneRun = (options: SimulationOptions, normal: () => number): number => {
  const { threshold, shift = 0, drift = 0, window = DEFAULT_WINDOW, shapes, mostReadings = 1_000_000 } = options;
  const enough = threshold * threshold;
  const recent: number[] = [];
  for (let t = 1; t < mostReadings; t += 1) {
    if (recent.length === window) recent.shift();
    recent.push(normal() + shift + drift * t);
    const fit = fitChange(recent, NOTHING_BEFORE, true, shapes);
    if (fit !== null && fit.explained > enough) return t;
  }
  return mostReadings;
};
