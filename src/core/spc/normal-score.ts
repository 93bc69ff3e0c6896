import { tCdf } from './distributions.js';
import { normalQuantile } from './normal.js';

/**
 * How far out a Student t value lies, told as the standard normal value that is just as rare.
 * How: the tail chance of |t| with its degrees of freedom, turned back by the normal quantile; both in the small tail,
 * so far values keep their precision. Beyond a chance of 1e-300 it stops at about 37.
 * Source: C. P. Quesenberry (1991), J. Quality Technology 23, 213-224 (Q statistics).
 * Errors: degrees of freedom not above 0 throws. Example: t = 12.706 with 1 degree of freedom gives 1.95995.
 */
export const normalScore = (t: number, degrees: number): number => {
  if (!(degrees > 0)) throw new RangeError(`degrees of freedom must be above 0, got ${degrees}`);
  if (t === 0) return 0;
  const tail = tCdf(-Math.abs(t), degrees);
  return Math.sign(t) * -normalQuantile(Math.max(tail, 1e-300));
};
