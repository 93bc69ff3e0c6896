import type { Autoregression } from './autoregression.js';
import { type EwmaState, ewma } from './ewma.js';
import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';

/**
 * An EWMA for a sensor whose readings are correlated: has the level moved, beyond what the correlation alone does?
 * How: what is new in each reading (reading less what the fit expects of it) is independent, so its EWMA has the run
 * length of the ordinary chart. A lasting shift shows in it as shift x (1 - sum of coefficients), which over sigma is
 * the shift in long-run standard deviations: the limits are those of the long-run variance.
 * In: the fit (`fitAutoregression`) from readings in control, weight (0.2 by default), width (3). Out: the EWMA of what
 * is new between its limits, in the unit of the readings; the reading expected next.
 * Too few: until as many readings as the fit has coefficients are there, the mean stands for those missing.
 * Errors: as `ewma`. Source: L. C. Alwan and H. V. Roberts (1988), J. Business & Economic Statistics 6, 87-95.
 * Example: coefficient 0.5, sigma 1, mean 0, readings 1 then 0.5: new are 1 and 0.
 */
export type CorrelatedEwmaConfig = {
  readonly fit: Autoregression;
  readonly weight?: number;
  readonly width?: number;
  readonly limits?: 'fixed' | 'exact';
};

export type CorrelatedEwmaState = { readonly recent: readonly number[]; readonly sums: EwmaState };

export type CorrelatedEwmaPoint = {
  readonly statistic: number;
  readonly lower: number | null;
  readonly upper: number;
  readonly expectedNext: number;
};

export const correlatedEwma: Method<CorrelatedEwmaConfig, CorrelatedEwmaState, CorrelatedEwmaPoint> = {
  initial: (config) => ({ recent: [], sums: ewma.initial(plain(config)) }),
  step: (config, state, value) => {
    const { fit } = config;
    const step = ewma.step(plain(config), state.sums, finite(value) - expected(fit, state.recent));
    const recent = [value, ...state.recent].slice(0, fit.coefficients.length);
    return {
      state: { recent, sums: step.state },
      point: { ...step.point, expectedNext: expected(fit, recent) },
      signal: signalOf(step.signal?.words ?? []),
    };
  },
};

const plain = ({ fit, weight = 0.2, width = 3, limits = 'fixed' }: CorrelatedEwmaConfig) => ({
  target: 0,
  sigma: fit.sigma * allowance(fit, weight, width),
  weight,
  width,
  limits,
});

/**
 * How much wider the limits must be because the fit is only as good as its readings. Its mean is known to sigma / root n
 * in what is new. Its scatter and correlation make the scatter of the EWMA uncertain by a relative variance v, and as
 * the rate of false notices goes like exp(-width^2 / 2), its average is kept by limits wider by width^2 v / 2.
 */
const allowance = ({ n, coefficients }: Autoregression, weight: number, width: number): number => {
  const sum = coefficients.reduce((total, part) => total + part, 0);
  const told = (1 - weight) / (1 - sum * (1 - weight));
  const v = 1 / (2 * n) + (coefficients.length > 0 ? (told * told * Math.max(0.05, 1 - sum * sum)) / n : 0);
  return Math.sqrt(1 + (2 - weight) / weight / n) * (1 + (width * width * v) / 2);
};

const expected = ({ mean, coefficients }: Autoregression, recent: readonly number[]): number =>
  coefficients.reduce((sum, part, i) => sum + part * ((recent[i] ?? mean) - mean), mean);
