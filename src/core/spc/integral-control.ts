/**
 * What correcting a share of every error does to the scatter: too small a share lets the process wander off, too large
 * a share chases chance.
 * How: the disturbance wanders (IMA(1,1) with weight lambda) and after each reading the share `gain` of its error is
 * corrected, in full effect at the next; the error then follows a first-order autoregression with a moving average,
 * whose standard deviation is sqrt((1 + theta^2 - 2 phi theta) / (1 - phi^2)), phi = 1 - gain, theta = 1 - lambda.
 * In: lambda from 0 (it never wanders) to 1, gain above 0 and below 2. Out: scatter over the least possible, 1 or more.
 * Errors: anything outside throws (at a gain of 2 the correction feeds on itself).
 * Source: G. E. P. Box, G. M. Jenkins and G. C. Reinsel, Time Series Analysis, 13.
 * Example: lambda 0, gain 1 gives sqrt(2): correcting every reading in full doubles the variance of a steady process.
 */
export const integralControlRatio = (lambda: number, gain: number): number => {
  if (!(lambda >= 0 && lambda <= 1)) throw new RangeError(`lambda must lie between 0 and 1, got ${lambda}`);
  if (!(gain > 0 && gain < 2)) throw new RangeError(`the gain must lie above 0 and below 2, got ${gain}`);
  const phi = 1 - gain;
  const theta = 1 - lambda;
  return Math.sqrt((1 + theta * theta - 2 * phi * theta) / (1 - phi * phi));
};
