import {
  addDouble,
  addDoubleDouble,
  type DoubleDouble,
  divideDoubleDouble,
  multiplyDoubleDouble,
} from './double-double.js';
import { finite } from './finite.js';
import type { Method } from './method.js';

/**
 * How many readings so far, where they centre and how far they scatter, without keeping them.
 * How: Welford's running update of the mean and of the sum of squared deviations, carried in two doubles each, on
 * readings scaled by a power of two when they are extremely large or small (the square of 1e200 would overflow).
 * In: readings in any unit. Out: mean, sd and the rest in that unit. Cost per reading does not grow.
 * Too few: `momentsOf` gives null for the mean of nothing and for the sd of fewer than two readings, never 0.
 * Source: B. P. Welford (1962), Technometrics 4, 419-420; checked on the NIST StRD univariate sets.
 * Example: 10000001, 10000003, 10000002 has mean 10000002 and sd 1 exactly (StRD NumAcc1).
 */
export type MomentsState = {
  readonly n: number;
  /** Power of two the readings were multiplied by before anything was added. */
  readonly scale: number;
  readonly mean: DoubleDouble;
  readonly squares: DoubleDouble;
  readonly min: number | null;
  readonly max: number | null;
};

export type Moments = {
  readonly n: number;
  readonly mean: number | null;
  /** Divisor n - 1; null below two readings. */
  readonly variance: number | null;
  readonly sd: number | null;
  readonly min: number | null;
  readonly max: number | null;
};

export const moments: Method<Record<string, never>, MomentsState, Moments> = {
  initial: () => ({ n: 0, scale: 1, mean: [0, 0], squares: [0, 0], min: null, max: null }),
  step: (_config, state, value) => {
    const next = addReading(state, value);
    return { state: next, point: momentsOf(next), signal: null };
  },
};

/** The moments of readings that are all at hand. */
export const momentsOver = (values: readonly number[]): Moments =>
  momentsOf(values.reduce(addReading, moments.initial({})));

/** Their mean; 0 for none. */
export const meanOver = (values: readonly number[]): number => momentsOver(values).mean ?? 0;

/** The state after one more reading. */
export const addReading = (before: MomentsState, value: number): MomentsState => {
  finite(value);
  const state = rescaled(before, value);
  const n = state.n + 1;
  const scaled = value * state.scale;
  const fromOldMean = addDouble([-state.mean[0], -state.mean[1]], scaled);
  const mean = addDoubleDouble(state.mean, divideDoubleDouble(fromOldMean, n));
  const fromNewMean = addDouble([-mean[0], -mean[1]], scaled);
  return {
    n,
    scale: state.scale,
    mean,
    squares: addDoubleDouble(state.squares, multiplyDoubleDouble(fromOldMean, fromNewMean)),
    min: state.min === null || value < state.min ? value : state.min,
    max: state.max === null || value > state.max ? value : state.max,
  };
};

/** What the state says in the unit of the readings. */
export const momentsOf = (state: MomentsState): Moments => {
  const { n, scale, mean, squares, min, max } = state;
  if (n === 0) return { n, mean: null, variance: null, sd: null, min, max };
  const variance = n < 2 ? null : Math.max(0, squares[0]) / (n - 1);
  return {
    n,
    mean: mean[0] / scale,
    variance: variance === null ? null : variance / scale / scale,
    sd: variance === null ? null : Math.sqrt(variance) / scale,
    min,
    max,
  };
};

const LARGE = 2 ** 300;
const TINY = 2 ** -300;

/** Chooses the scale at the first reading that is not zero, and again when a far larger one arrives. */
const rescaled = (state: MomentsState, value: number): MomentsState => {
  const size = Math.abs(value);
  if (size === 0) return state;
  const untouched = state.mean[0] === 0 && state.squares[0] === 0;
  const scaledSize = size * state.scale;
  const tooLarge = scaledSize > LARGE;
  const tooSmall = untouched && scaledSize < TINY;
  if (!tooLarge && !tooSmall) return state;
  const scale = 2 ** Math.max(-1000, Math.min(1000, -Math.round(Math.log2(size))));
  const factor = scale / state.scale;
  return {
    ...state,
    scale,
    mean: [state.mean[0] * factor, state.mean[1] * factor],
    squares: [state.squares[0] * factor * factor, state.squares[1] * factor * factor],
  };
};
