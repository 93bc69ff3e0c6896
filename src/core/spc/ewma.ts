import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';

/**
 * A weighted running mean that forgets: has the process moved a little and stayed there?
 * How: statistic = weight x reading + (1 - weight) x statistic before, starting at the target (plus the head start).
 * Limits at target +- width x sigma x sqrt(weight / (2 - weight) x (1 - (1 - weight)^(2t))), exact at reading t, or
 * with `limits: 'fixed'` at their final value. One-sided (`sides: 1`) watches the upper side only, and the statistic
 * is put back to the target whenever it falls below it.
 * In: target, sigma and readings in one unit; weight in (0, 1]; width without unit (3 by default); head start in sigmas.
 * Out: the statistic between its limits; beyond-limits when it is outside.
 * Errors: weight outside (0, 1], sigma or width not above 0 throw.
 * Source: S. W. Roberts (1959), Technometrics 1, 239-250; J. M. Lucas and M. S. Saccucci (1990), Technometrics 32,
 * 1-12; one-sided with reset: S. V. Crowder and M. D. Hamilton (1992), J. Quality Technology 24, 12-21.
 * Example: target 10, sigma 1, weight 0.1, width 2.7: first limits 9.73 and 10.27, final 9.38 and 10.62.
 */
export type EwmaConfig = {
  readonly target: number;
  readonly sigma: number;
  readonly weight: number;
  readonly width?: number;
  readonly limits?: 'exact' | 'fixed';
  readonly sides?: 1 | 2;
  readonly headStart?: number;
};

export type EwmaState = { readonly n: number; readonly statistic: number };

export type EwmaPoint = { readonly statistic: number; readonly lower: number | null; readonly upper: number };

export const ewma: Method<EwmaConfig, EwmaState, EwmaPoint> = {
  initial: (config) => {
    checkEwma(config);
    return { n: 0, statistic: config.target + (config.headStart ?? 0) * config.sigma };
  },
  step: (config, state, value) => {
    const { target, weight, sides = 2 } = config;
    const n = state.n + 1;
    const moved = state.statistic + weight * (finite(value) - state.statistic);
    const statistic = sides === 1 ? Math.max(target, moved) : moved;
    const reach = ewmaReach(config, n);
    const upper = target + reach;
    const lower = sides === 1 ? null : target - reach;
    const out = statistic > upper || (lower !== null && statistic < lower);
    return {
      state: { n, statistic },
      point: { statistic, lower, upper },
      signal: signalOf(out ? ['beyond-limits'] : []),
    };
  },
};

/** How far the limit lies from the target at reading n, in the unit of the readings. */
export const ewmaReach = ({ sigma, weight, width = 3, limits = 'exact' }: EwmaConfig, n: number): number => {
  const settled = weight / (2 - weight);
  const share = limits === 'fixed' || weight === 1 ? 1 : -Math.expm1(2 * n * Math.log1p(-weight));
  return width * sigma * Math.sqrt(settled * share);
};

const checkEwma = ({ target, sigma, weight, width = 3 }: EwmaConfig): void => {
  finite(target, 'target');
  if (!(weight > 0 && weight <= 1)) throw new RangeError(`the weight must lie above 0 and at most 1, got ${weight}`);
  if (!(sigma > 0) || !(width > 0)) throw new RangeError(`sigma and width must be above 0, got ${sigma} and ${width}`);
};
