import { momentsOver } from './moments.js';

/**
 * How far readings scatter when the loupe only reads to a step: readings that all repeat have not shown a scatter of 0,
 * only that it is small against the step.
 * How: rounding to a step w adds a variance of w^2 / 12. Limits for readings use the standard deviation of the readings
 * as they are, but never less than w / root 12; the scatter of the process itself is what is left when the rounding
 * variance is taken off (Sheppard), 0 if nothing is left.
 * In: readings and step in one unit. Out: both in that unit; null for fewer than 2 readings.
 * Errors: a step below 0 throws.
 * Source: W. F. Sheppard (1898), Proc. London Math. Soc. 29, 353-380; S. D. Phillips, B. Toman and W. T. Estler (2008),
 * J. Res. NIST 113, 143-156. Example: five readings of 0.10 to a step of 0.05: readings scatter 0.0144, process 0.
 */
export type RoundedScatter = {
  readonly n: number;
  /** What limits for single readings are made from. */
  readonly readings: number | null;
  /** What is left for the process and the eye. */
  readonly process: number | null;
};

export const roundedScatter = (values: readonly number[], step: number): RoundedScatter => {
  const { n, variance } = momentsOver(values);
  if (variance === null) return { n, readings: null, process: null };
  return {
    n,
    readings: withRounding(Math.sqrt(variance), step),
    process: Math.sqrt(Math.max(0, variance - roundingVariance(step))),
  };
};

/** The variance that rounding to a step adds. */
export const roundingVariance = (step: number): number => {
  if (!(step >= 0)) throw new RangeError(`a reading step must be 0 or more, got ${step}`);
  return (step * step) / 12;
};

/** A standard deviation of rounded readings, never less than rounding alone would give. */
export const withRounding = (sd: number, step: number): number => Math.sqrt(Math.max(sd * sd, roundingVariance(step)));

/** The scatter to expect of rounded readings, when the process itself scatters by sigma. */
export const roundedReadingsSd = (sigma: number, step: number): number =>
  Math.sqrt(sigma * sigma + roundingVariance(step));
