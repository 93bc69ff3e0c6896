import { normalQuantile } from './normal.js';
import { roundingVariance } from './rounded-scatter.js';

/**
 * Whether the step of the loupe is fine enough for what is to be judged with it, in words.
 * How: a step above a tenth of the whole tolerance is coarse for it (common practice, no source), above a third it
 * cannot tell in from out; a step above the scatter of the readings hides that scatter (Wheeler: readings then show
 * three values or fewer within the limits of a range chart); it is worth reading finer than two probable errors
 * (0.6745 sigma), not finer than a fifth of one.
 * In: step, whole width of the tolerance and scatter in one unit; tolerance or scatter may be unknown. Out: the verdict,
 * a sentence for the operator, the share of the tolerance one step is, the share of the variance that is rounding.
 * Errors: a step not above 0 throws. Source: D. J. Wheeler, EMP III (from memory); the tenth: common practice.
 * Example: step 0.05, tolerance +-0.15 (0.30 wide): coarse, a sixth of the tolerance.
 */
export type ReadingStep = {
  readonly verdict: 'fine' | 'coarse' | 'too coarse';
  readonly why: string;
  readonly shareOfTolerance: number | null;
  readonly shareOfVariance: number | null;
};

/** Half of all readings fall within this many sigmas of the truth. */
export const PROBABLE_ERROR = normalQuantile(0.75);

export const readingStep = (step: number, toleranceWidth: number | null, sigma: number | null): ReadingStep => {
  if (!(step > 0)) throw new RangeError(`a reading step must be above 0, got ${step}`);
  const shareOfTolerance = toleranceWidth === null ? null : step / toleranceWidth;
  const shareOfVariance = sigma === null ? null : roundingVariance(step) / (sigma * sigma + roundingVariance(step));
  const shares = { shareOfTolerance, shareOfVariance };
  if (shareOfTolerance !== null && shareOfTolerance > 1 / 3) {
    return {
      verdict: 'too coarse',
      why: `one step is ${percent(shareOfTolerance)} of the tolerance: it cannot tell in from out`,
      ...shares,
    };
  }
  if (sigma !== null && step > sigma) {
    return {
      verdict: 'coarse',
      why: 'one step is more than the scatter: readings repeat and small moves stay hidden',
      ...shares,
    };
  }
  if (shareOfTolerance !== null && shareOfTolerance > 0.1) {
    return {
      verdict: 'coarse',
      why: `one step is ${percent(shareOfTolerance)} of the tolerance, more than a tenth`,
      ...shares,
    };
  }
  return { verdict: 'fine', why: 'the step is fine enough', ...shares };
};

/** The steps it is worth reading to, for a reading error of sigma: from a fifth of a probable error to two. */
export const worthwhileStep = (sigma: number): { readonly from: number; readonly to: number } => ({
  from: 0.2 * PROBABLE_ERROR * sigma,
  to: 2 * PROBABLE_ERROR * sigma,
});

const percent = (share: number): string => `${Math.round(share * 100)} %`;
