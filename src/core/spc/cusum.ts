import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';

/**
 * Adds up what lies beyond a slack on either side: has the process moved by about twice the slack and stayed there?
 * How: high = max(0, high + reading - target - slack x sigma), low likewise downward, both in the unit of the readings;
 * a signal when one is above decision x sigma. A head start lets both sums begin part of the way up. The sums run on
 * after a signal. One-sided (`sides: 1`) keeps the upper sum only.
 * In: target, sigma and readings in one unit; slack (0.5 by default), decision (5) and head start (0) in sigmas.
 * Out: the two sums, their limit, and since how many readings each has been above zero (when the shift began).
 * Errors: sigma or decision not above 0, slack or head start below 0 throw.
 * Source: E. S. Page (1954), Biometrika 41, 100-115; J. M. Lucas and R. B. Crosier (1982), Technometrics 24, 199-205
 * (head start); NIST/SEMATECH e-Handbook 6.3.2.3 (tabular form). Example: the NIST groups signal first at group 14.
 */
export type CusumConfig = {
  readonly target: number;
  readonly sigma: number;
  readonly slack?: number;
  readonly decision?: number;
  readonly headStart?: number;
  readonly sides?: 1 | 2;
};

export type CusumState = {
  readonly high: number;
  readonly low: number;
  readonly highFor: number;
  readonly lowFor: number;
};

export type CusumPoint = {
  readonly high: number;
  readonly low: number | null;
  readonly limit: number;
  readonly highFor: number;
  readonly lowFor: number;
};

export const DEFAULT_SLACK = 0.5;
export const DEFAULT_DECISION = 5;

export const cusum: Method<CusumConfig, CusumState, CusumPoint> = {
  initial: (config) => {
    checkCusum(config);
    const start = (config.headStart ?? 0) * config.sigma;
    return { high: start, low: config.sides === 1 ? 0 : start, highFor: 0, lowFor: 0 };
  },
  step: (config, state, value) => {
    const { target, sigma, slack = DEFAULT_SLACK, decision = DEFAULT_DECISION, sides = 2 } = config;
    const away = finite(value) - target;
    const high = Math.max(0, state.high + away - slack * sigma);
    const low = sides === 1 ? 0 : Math.max(0, state.low - away - slack * sigma);
    const next = { high, low, highFor: high > 0 ? state.highFor + 1 : 0, lowFor: low > 0 ? state.lowFor + 1 : 0 };
    const limit = decision * sigma;
    return {
      state: next,
      point: { ...next, low: sides === 1 ? null : low, limit },
      signal: signalOf(high > limit || low > limit ? ['beyond-limits'] : []),
    };
  },
};

const checkCusum = (config: CusumConfig): void => {
  const { target, sigma, slack = DEFAULT_SLACK, decision = DEFAULT_DECISION, headStart = 0 } = config;
  finite(target, 'target');
  if (!(sigma > 0) || !(decision > 0)) {
    throw new RangeError(`sigma and decision must be above 0, got ${sigma} and ${decision}`);
  }
  if (!(slack >= 0) || !(headStart >= 0)) {
    throw new RangeError(`slack and head start must be 0 or more, got ${slack} and ${headStart}`);
  }
};
