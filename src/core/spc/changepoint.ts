import { type ChangeFit, type ChangeShape, fitChange } from './changepoint-fit.js';
import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';
import { normalScore } from './normal-score.js';

/**
 * Has the process moved, when did it begin, and by how much: a step or a ramp, over the newest readings.
 * How: generalised likelihood ratio. Of all changes that may have begun at one of the newest `window` readings the one
 * that explains most is taken (`fitChange`); the statistic is how many standard errors it is from nothing. Scatter
 * known: root of explained / sigma^2. Scatter unknown: a t value with the scatter left over, from all readings since
 * the start; partly known: a prior sigma enters as so many readings of evidence; both told as the normal value that is
 * as rare (`normalScore`). With a `resolution` (the step readings are rounded to) the scatter left over is
 * never taken as less than half a step, what a process standing still between two steps reads.
 * In: readings in any unit; aim, sigma or prior in that unit if known; threshold without unit
 * (`changepointThreshold` gives it for an asked run length). Out: the statistic, since how many readings the change is
 * believed to be there, its shape and its size now (a ramp: slope x readings since), in the unit of the readings.
 * Too few: statistic null until there is something before the change and scatter to judge it by.
 * Errors: sigma, prior or threshold not above 0, a window below 2 throw.
 * Source: D. Siegmund and E. S. Venkatraman (1995), Ann. Statist. 23, 255-271 (scatter known); D. M. Hawkins, P. Qiu
 * and C. W. Kang (2003), J. Quality Technology 35, 355-366 (unknown). Prior as evidence: scaled inverse chi-square.
 * Example: aim 0, sigma 1, readings 0 0 0 2 2 2: statistic 2 sqrt 3, a step of 2, begun 3 readings ago.
 */
export type ChangepointConfig = {
  readonly threshold: number;
  readonly aim?: number;
  readonly sigma?: number;
  /** Believed sigma, worth this many readings of evidence; used when sigma is not given. */
  readonly prior?: { readonly sigma: number; readonly worth: number };
  readonly window?: number;
  readonly shapes?: readonly ChangeShape[];
  readonly resolution?: number;
};

export type ChangepointState = {
  readonly n: number;
  /** What readings are taken from: the aim, or the first reading. */
  readonly origin: number;
  readonly recent: readonly number[];
  readonly older: { readonly n: number; readonly sum: number; readonly squares: number };
};

export type ChangepointPoint = {
  readonly statistic: number | null;
  readonly upper: number;
  readonly length: number | null;
  readonly shape: ChangeShape | null;
  /** How far the process has moved by now. */
  readonly size: number | null;
  /** Slope a reading, for a ramp. */
  readonly slope: number | null;
};

export const DEFAULT_WINDOW = 60;
export const BOTH_SHAPES: readonly ChangeShape[] = ['step', 'ramp'];

export const changepoint: Method<ChangepointConfig, ChangepointState, ChangepointPoint> = {
  initial: (config) => {
    checkChangepoint(config);
    return { n: 0, origin: config.aim ?? 0, recent: [], older: { n: 0, sum: 0, squares: 0 } };
  },
  step: (config, before, value) => {
    const state = takeIn(config, before, finite(value));
    const fit = fitChange(state.recent, state.older, config.aim !== undefined, config.shapes ?? BOTH_SHAPES);
    const statistic = fit === null ? null : statisticOf(config, state, fit);
    const point = pointOf(config.threshold, statistic, fit);
    return {
      state,
      point,
      signal: signalOf(statistic !== null && statistic > config.threshold ? ['beyond-limits'] : []),
    };
  },
};

const takeIn = (config: ChangepointConfig, before: ChangepointState, value: number): ChangepointState => {
  const origin = before.n === 0 && config.aim === undefined ? value : before.origin;
  const away = value - origin;
  const full = before.recent.length >= (config.window ?? DEFAULT_WINDOW);
  const leaving = full ? (before.recent[0] ?? 0) : 0;
  const { n, sum, squares } = before.older;
  return {
    n: before.n + 1,
    origin,
    recent: full ? [...before.recent.slice(1), away] : [...before.recent, away],
    older: full ? { n: n + 1, sum: sum + leaving, squares: squares + leaving * leaving } : before.older,
  };
};

const statisticOf = (config: ChangepointConfig, state: ChangepointState, fit: ChangeFit): number | null => {
  const { sigma, prior, aim, resolution = 0 } = config;
  if (sigma !== undefined) return Math.sqrt(fit.explained) / sigma;
  const worth = prior?.worth ?? 0;
  const degrees = worth + state.n - (aim === undefined ? 2 : 1);
  if (degrees < 1) return null;
  const believed = worth * (prior?.sigma ?? 0) ** 2;
  const left = believed + Math.max(0, squaresAbout(state, aim === undefined) - fit.explained);
  const variance = Math.max(left / degrees, resolution ** 2 / 4);
  if (fit.explained === 0) return 0;
  if (!(variance > 1e-24 * fit.explained)) return null;
  return normalScore(Math.sqrt(fit.explained / variance), degrees);
};

/** Sum of squares about the origin, or about the mean. */
const squaresAbout = (state: ChangepointState, aboutMean: boolean): number => {
  let { n, sum, squares } = state.older;
  for (const away of state.recent) {
    n += 1;
    sum += away;
    squares += away * away;
  }
  return aboutMean ? squares - (sum * sum) / n : squares;
};

const pointOf = (upper: number, statistic: number | null, fit: ChangeFit | null): ChangepointPoint => {
  if (statistic === null || fit === null)
    return { statistic: null, upper, length: null, shape: null, size: null, slope: null };
  const { shape, length, rate } = fit;
  return {
    statistic,
    upper,
    length,
    shape,
    size: shape === 'step' ? rate : rate * length,
    slope: shape === 'step' ? null : rate,
  };
};

const checkChangepoint = ({ threshold, sigma, prior, window = DEFAULT_WINDOW }: ChangepointConfig): void => {
  if (!(threshold > 0)) throw new RangeError(`the threshold must be above 0, got ${threshold}`);
  if (sigma !== undefined && !(sigma > 0)) throw new RangeError(`sigma must be above 0, got ${sigma}`);
  if (prior !== undefined && !(prior.sigma > 0 && prior.worth > 0)) {
    throw new RangeError(`a prior needs sigma and worth above 0, got ${prior.sigma} and ${prior.worth}`);
  }
  if (!(Number.isInteger(window) && window >= 2))
    throw new RangeError(`a window needs 2 readings or more, got ${window}`);
};
