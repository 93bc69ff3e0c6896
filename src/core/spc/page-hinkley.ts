import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';

/**
 * Has the mean risen or fallen for good, with no aim known: each reading is held against the mean of all so far.
 * How: upward, m <- m + (reading - mean so far - delta), and the height of m above its lowest value is watched;
 * downward the same on the mirrored readings. A height above `threshold` is a signal. The mean takes the new reading in
 * before it is compared, so the first reading compares with itself.
 * In: delta (a rise this small is let be, 0 or more) and threshold (above 0), both in the unit of the readings.
 * Out: both heights, in that unit. Too few: the first reading gives heights 0 and no signal.
 * Errors: delta below 0 or a threshold not above 0 throws.
 * Source: E. S. Page (1954), Biometrika 41, 100-115; D. V. Hinkley (1971), Biometrika 58, 509-523.
 * Example: readings 52, 47, 53 with delta 0.25 end with heights 2.0833 up and 0 down.
 */
export type PageHinkleyConfig = { readonly delta: number; readonly threshold: number };

export type PageHinkleySide = { readonly m: number; readonly lowest: number | null };

export type PageHinkleyState = {
  readonly n: number;
  readonly mean: number;
  readonly up: PageHinkleySide;
  readonly down: PageHinkleySide;
};

export type PageHinkleyPoint = { readonly mean: number; readonly up: number; readonly down: number };

export const pageHinkley: Method<PageHinkleyConfig, PageHinkleyState, PageHinkleyPoint> = {
  initial: ({ delta, threshold }) => {
    if (!(delta >= 0)) throw new RangeError(`delta must be 0 or more, got ${delta}`);
    if (!(threshold > 0)) throw new RangeError(`the threshold must be above 0, got ${threshold}`);
    return { n: 0, mean: 0, up: { m: 0, lowest: null }, down: { m: 0, lowest: null } };
  },
  step: ({ delta, threshold }, state, value) => {
    finite(value);
    const n = state.n + 1;
    const mean = state.mean + (value - state.mean) / n;
    const up = sideAfter(state.up, value - mean - delta);
    const down = sideAfter(state.down, mean - value - delta);
    const point = { mean, up: height(up), down: height(down) };
    const signal = signalOf(point.up > threshold || point.down > threshold ? ['changed'] : []);
    return { state: { n, mean, up, down }, point, signal };
  },
};

const sideAfter = (side: PageHinkleySide, gain: number): PageHinkleySide => {
  const m = side.m + gain;
  return { m, lowest: side.lowest === null ? m : Math.min(side.lowest, m) };
};

const height = ({ m, lowest }: PageHinkleySide): number => m - (lowest ?? m);
