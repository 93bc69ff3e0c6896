import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';
import { addReading, type MomentsState, moments } from './moments.js';
import { normalScore } from './normal-score.js';

/**
 * A chart without a baseline period: each reading is judged against the readings before it, from the first one where
 * that can be done.
 * How: how far the reading lies from what was to be expected, in units of its own uncertainty: a t value whose degrees
 * of freedom grow with the readings, told as the normal value that is as rare. Aim known or taken from the mean so far;
 * scatter known, or taken from the readings so far, or a prior sigma mixed in as so many readings of evidence. While
 * nothing changes the scores are standard normal and independent (with a prior: when the scatter is drawn from it).
 * In: readings, aim, sigma, prior in one unit; width (3 by default) without. With a `resolution` (the step
 * readings are rounded to) the scatter is never taken as less than half a step, what a process standing still between
 * two steps reads.
 * Out: the score. Too few: null (aim and scatter unknown: the first two readings; with a prior or a known scatter: the
 * first; everything known or aim and prior given: none). Null also while the readings have shown no scatter at all.
 * Errors: sigma, prior or width not above 0 throw.
 * Source: D. M. Hawkins (1987), The Statistician 36, 299-315; C. P. Quesenberry (1991), J. Quality Technology 23,
 * 213-224. Prior: scaled inverse chi-square, A. Gelman et al., Bayesian Data Analysis, section 2.6.
 * Example: 49.6 47.6 49.9 scores 0.53868 at the third reading (NIST flow rate).
 */
export type SelfStartingConfig = {
  readonly aim?: number;
  readonly sigma?: number;
  readonly prior?: { readonly sigma: number; readonly worth: number };
  readonly width?: number;
  readonly resolution?: number;
};

export type SelfStartingState = {
  readonly seen: MomentsState;
  /** Sum of squares about the aim, kept when the aim is known. */
  readonly aboutAim: number;
};

export type SelfStartingPoint = { readonly statistic: number | null; readonly lower: number; readonly upper: number };

export const selfStarting: Method<SelfStartingConfig, SelfStartingState, SelfStartingPoint> = {
  initial: (config) => {
    checkSelfStarting(config);
    return { seen: moments.initial({}), aboutAim: 0 };
  },
  step: (config, state, value) => {
    const { aim, width = 3 } = config;
    const statistic = scoreOf(config, state, finite(value));
    const away = aim === undefined ? 0 : value - aim;
    return {
      state: { seen: addReading(state.seen, value), aboutAim: state.aboutAim + away * away },
      point: { statistic, lower: -width, upper: width },
      signal: signalOf(statistic !== null && Math.abs(statistic) > width ? ['beyond-limits'] : []),
    };
  },
};

const scoreOf = (config: SelfStartingConfig, { seen, aboutAim }: SelfStartingState, value: number): number | null => {
  const { aim, sigma, prior, resolution = 0 } = config;
  if (aim === undefined && seen.n === 0) return null;
  const away = aim === undefined ? value - seen.mean[0] / seen.scale : value - aim;
  const inflated = aim === undefined ? 1 + 1 / seen.n : 1;
  if (sigma !== undefined) return away / (sigma * Math.sqrt(inflated));
  const own = aim === undefined ? seen.n - 1 : seen.n;
  const worth = prior?.worth ?? 0;
  const degrees = own + worth;
  if (degrees <= 0) return null;
  const squares = aim === undefined ? seen.squares[0] / seen.scale / seen.scale : aboutAim;
  const variance = Math.max((worth * (prior?.sigma ?? 0) ** 2 + squares) / degrees, resolution ** 2 / 4);
  if (!(variance > 0)) return null;
  return normalScore(away / Math.sqrt(variance * inflated), degrees);
};

const checkSelfStarting = ({ sigma, prior, width = 3 }: SelfStartingConfig): void => {
  if (sigma !== undefined && !(sigma > 0)) throw new RangeError(`sigma must be above 0, got ${sigma}`);
  if (prior !== undefined && !(prior.sigma > 0 && prior.worth > 0)) {
    throw new RangeError(`a prior needs sigma and worth above 0, got ${prior.sigma} and ${prior.worth}`);
  }
  if (!(width > 0)) throw new RangeError(`the width must be above 0, got ${width}`);
};
