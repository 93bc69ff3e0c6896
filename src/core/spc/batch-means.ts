import { meanOver, momentsOver } from './moments.js';

/**
 * How far the mean of many readings really scatters when they are correlated, without a model of the correlation.
 * How: the readings are cut into batches long enough that the means of neighbouring batches hardly know of each other;
 * the long-run standard deviation is root of the batch length times the standard deviation of the batch means.
 * In: readings in any unit, none missing; batch length (root of the number of readings unless given).
 * Out: the means and the long-run standard deviation in that unit; null below 5 whole batches.
 * Source: A. M. Law, Simulation Modeling and Analysis, section 9.5.3. Example: for independent readings it is their
 * standard deviation; for a first-order autoregression of 0.5 it is 1.73 times that.
 */
export type BatchMeans = { readonly means: readonly number[]; readonly longRunSd: number; readonly length: number };

export const batchMeans = (
  values: readonly number[],
  length = Math.floor(Math.sqrt(values.length)),
): BatchMeans | null => {
  const count = length < 1 ? 0 : Math.floor(values.length / length);
  if (count < 5) return null;
  const means = Array.from({ length: count }, (_, i) => meanOver(values.slice(i * length, (i + 1) * length)));
  const { sd } = momentsOver(means);
  return sd === null ? null : { means, longRunSd: sd * Math.sqrt(length), length };
};
