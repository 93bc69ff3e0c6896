import { autocorrelation } from './autocorrelation.js';
import { chisquareSurvival } from './distributions.js';

/**
 * Are the readings correlated with the ones before them, over several lags at once?
 * How: Ljung and Box: n (n + 2) x sum of r(k)^2 / (n - k) over the lags, chi-square with as many degrees of freedom as
 * lags (less the coefficients fitted before, if the readings are what a fit left over). Box and Pierce beside it:
 * n x sum of r(k)^2.
 * In: readings in any unit, none missing. Out: statistic, degrees of freedom, upper-tail p; null when there are not
 * more readings than lags, no scatter, or no degree of freedom.
 * Source: G. M. Ljung and G. E. P. Box (1978), Biometrika 65, 297-303; G. E. P. Box and D. A. Pierce (1970), JASA 65.
 * Example: Nile flow, 1 lag: 25.594, p 4.2e-7.
 */
export type Portmanteau = {
  readonly statistic: number;
  readonly boxPierce: number;
  readonly degrees: number;
  readonly p: number;
};

export const portmanteau = (values: readonly number[], lags: number, fitted = 0): Portmanteau | null => {
  const n = values.length;
  if (n <= lags || lags - fitted < 1) return null;
  let statistic = 0;
  let boxPierce = 0;
  for (let lag = 1; lag <= lags; lag += 1) {
    const r = autocorrelation(values, lag);
    if (r === null) return null;
    statistic += (n * (n + 2) * r * r) / (n - lag);
    boxPierce += n * r * r;
  }
  const degrees = lags - fitted;
  return { statistic, boxPierce, degrees, p: chisquareSurvival(statistic, degrees) };
};
