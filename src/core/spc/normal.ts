import stdNormalCdf from '@stdlib/stats-base-dists-normal-cdf';
import stdNormalQuantile from '@stdlib/stats-base-dists-normal-quantile';

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

/**
 * The normal distribution, standard unless moved by the caller. Both tails keep their relative precision: ask
 * `normalSurvival` for the upper tail, never 1 - `normalCdf`.
 * Source: @stdlib (error function after W. J. Cody). Example: normalSurvival(3) = 0.0013498980316300933.
 */
export const normalCdf = (z: number): number => stdNormalCdf(z, 0, 1);

/** The chance of a value above z. */
export const normalSurvival = (z: number): number => stdNormalCdf(-z, 0, 1);

/** The density at z. */
export const normalPdf = (z: number): number => Math.exp(-0.5 * z * z) / ROOT_TWO_PI;

/** The z below which the share p lies; minus and plus infinity at 0 and 1, NaN outside. */
export const normalQuantile = (p: number): number => stdNormalQuantile(p, 0, 1);
