import { fCdf } from '../spc/distributions.js';
import { poissonUpperLimit } from '../spc/poisson-limits.js';

/**
 * The count that is too many: the smallest c with a chance of c or more of at most `p`, exact Poisson (three-sigma limits are
 * false at low counts). `mean` = usual rate × labels looked at. No data needed beyond the mean; a mean of 0 gives 1.
 * Source: TRADE section 5, derived there. Example: mean 0.5, p 0.00135: 5 or more (three sigma would say 3).
 */
export const countLimit = (mean: number, p: number): number => (mean <= 0 ? 1 : poissonUpperLimit(mean, p) + 1);

/**
 * The same chance where the usual rate is itself only known from so many flaws in so many labels (gamma with that shape and
 * exposure): negative binomial upper tail, through its incomplete beta and the F distribution.
 */
export const chanceOfCountLearned = (count: number, labels: number, shape: number, exposure: number): number => {
  if (count <= 0) return 1;
  const share = labels / (labels + exposure);
  return fCdf((share / (1 - share)) * (shape / count), 2 * count, 2 * shape);
};

/** The smallest count whose chance is at most `p` where the rate is only learned: never less than the Poisson limit of that mean. */
export const countLimitLearned = (mean: number, shape: number, p: number): number => {
  let count = countLimit(mean, p);
  while (chanceOfCountLearned(count, mean, shape, shape) > p) count += 1;
  return count;
};
