import { type CusumPoint, type CusumState, cusum } from './cusum.js';
import { type Method, signalOf } from './method.js';
import { type SelfStartingConfig, type SelfStartingState, selfStarting } from './self-starting.js';

/**
 * A CUSUM that needs no baseline period: it adds up the scores of `selfStarting` instead of the readings.
 * In: the settings of `selfStarting`; slack, decision and head start in sigmas of the scores (which are 1).
 * Out: the score and the two sums; a reading without a score leaves the sums as they are.
 * Source: D. M. Hawkins (1987), The Statistician 36, 299-315. Example: viscosity, slack 0.5, decision 4: signals at the
 * 31st and 35th readings.
 */
export type SelfStartingCusumConfig = SelfStartingConfig & {
  readonly slack?: number;
  readonly decision?: number;
  readonly headStart?: number;
};

export type SelfStartingCusumState = { readonly scores: SelfStartingState; readonly sums: CusumState };

export type SelfStartingCusumPoint = { readonly statistic: number | null; readonly sums: CusumPoint | null };

export const selfStartingCusum: Method<SelfStartingCusumConfig, SelfStartingCusumState, SelfStartingCusumPoint> = {
  initial: (config) => ({ scores: selfStarting.initial(config), sums: cusum.initial(sumsOf(config)) }),
  step: (config, state, value) => {
    const scored = selfStarting.step(config, state.scores, value);
    const { statistic } = scored.point;
    if (statistic === null) {
      return { state: { ...state, scores: scored.state }, point: { statistic, sums: null }, signal: null };
    }
    const summed = cusum.step(sumsOf(config), state.sums, statistic);
    return {
      state: { scores: scored.state, sums: summed.state },
      point: { statistic, sums: summed.point },
      signal: signalOf(summed.signal?.words ?? []),
    };
  },
};

const sumsOf = ({ slack, decision, headStart }: SelfStartingCusumConfig) => ({
  target: 0,
  sigma: 1,
  ...(slack !== undefined && { slack }),
  ...(decision !== undefined && { decision }),
  ...(headStart !== undefined && { headStart }),
});
