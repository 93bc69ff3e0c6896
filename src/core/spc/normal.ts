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

/**
 * The z below which the share p lies; minus and plus infinity at 0 and 1, NaN outside. The library's own value is good
 * near the middle but has 8 digits at 1e-10 and none at 1e-20, so it is the first guess of Newton's method on the
 * logarithm of the tail.
 */
export const normalQuantile = (p: number): number => {
  if (!(p > 0 && p < 1)) return p === 0 ? Number.NEGATIVE_INFINITY : p === 1 ? Number.POSITIVE_INFINITY : Number.NaN;
  if (p > 0.5) return -normalQuantile(1 - p);
  let z = p > 1e-6 ? stdNormalQuantile(p, 0, 1) : -Math.sqrt(-2 * Math.log(p * Math.sqrt(-4 * Math.PI * Math.log(p))));
  for (let turn = 0; turn < 20; turn += 1) {
    const tail = normalCdf(z);
    const move = (Math.log(tail / p) * tail) / normalPdf(z);
    z -= move;
    if (Math.abs(move) < 1e-15 * (1 + Math.abs(z))) break;
  }
  return z;
};
