import { autocorrelation } from './autocorrelation.js';
import { normalSurvival } from './normal.js';

/**
 * Does each reading resemble the one before it more, or less, than chance would have it?
 * How: the lag-1 autocorrelation against what independent readings give: mean -1/n, variance (n - 2)^2 / (n^2 (n - 1)),
 * normal from about 20 readings on.
 * In: readings in any unit, none missing. Out: r, z and the two-sided p; null below 5 readings or without scatter.
 * Source: P. A. P. Moran (1948), Biometrika 35, 255-260. Example: Nile flow: r 0.4984, z 5.135.
 */
export type LagOneTest = { readonly r: number; readonly z: number; readonly p: number };

export const lagOneTest = (values: readonly number[]): LagOneTest | null => {
  const n = values.length;
  if (n < 5) return null;
  const r = autocorrelation(values, 1);
  if (r === null) return null;
  const z = ((r + 1 / n) * n * Math.sqrt(n - 1)) / (n - 2);
  return { r, z, p: 2 * normalSurvival(Math.abs(z)) };
};
