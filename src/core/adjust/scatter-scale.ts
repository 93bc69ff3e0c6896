import { normalDensity } from '../spc/normal.js';

/** Two readings of one setting, as one difference scaled to the variance of one reading; and the scatter the job believes there; mm. */
export type Apart = { readonly mm: number; readonly believed_mm: number };

/** The job's value is mostly good to a third or so, and now and then far off: Student's t of three on the logarithm. Common practice, no source. */
const BELIEVED_LOG_SD = 0.3;
const FREEDOM = 3;
/** One label in fifty is misread, by anything up to so much, mm. */
const MISREAD = 0.02;
const MISREAD_MM = 1;
const STEPS = 40;
const MOST = Math.log(6);

/**
 * How many times what the job believes readings really scatter: its square, the mean over what is left possible.
 * How: a belief that is narrow near 1 and has long tails, so that one pair of readings changes little and many of one mind are believed;
 * times how well each scale explains the differences, a misread label left aside; summed over a grid of scales.
 * Rounding to `resolution_mm` scatters whatever else does. No differences: 1.
 * Source: Bayes' theorem on a grid; the long-tailed belief is ours. Example: ten differences a third as large as believed: 0.20, 0.44 times.
 */
export const scatterScale = (apart: readonly Apart[], resolution_mm: number): number => {
  if (apart.length === 0) return 1;
  const logs = Array.from({ length: 2 * STEPS + 1 }, (_, i) => ((i - STEPS) / STEPS) * MOST);
  const told = logs.map((log) => {
    const believed = -((FREEDOM + 1) / 2) * Math.log(1 + (log / BELIEVED_LOG_SD) ** 2 / FREEDOM);
    return apart.reduce((sum, a) => sum + Math.log(fits(a, Math.exp(2 * log), resolution_mm)), believed);
  });
  const top = Math.max(...told);
  const weights = told.map((t) => Math.exp(t - top));
  const squares = logs.map((log, i) => (weights[i] ?? 0) * Math.exp(2 * log));
  return sum(squares) / sum(weights);
};

const fits = ({ mm, believed_mm }: Apart, square: number, resolution_mm: number): number => {
  const variance = square * believed_mm ** 2 + resolution_mm ** 2 / 12;
  const near = normalDensity(mm, variance);
  return (1 - MISREAD) * near + MISREAD / (2 * MISREAD_MM);
};

const sum = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0);
