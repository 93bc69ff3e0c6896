import { normalCdf } from './distributions.js';

export { normalCdf, normalQuantile } from './distributions.js';

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

/** The chance of a standard normal value above z: the upper tail itself, never 1 - `normalCdf`. Example: normalSurvival(3) = 0.00134989803163. */
export const normalSurvival = (z: number): number => normalCdf(-z);

/** The density at z. */
export const normalPdf = (z: number): number => Math.exp(-0.5 * z * z) / ROOT_TWO_PI;

/** The density of a normal of this variance so far from its mean. Example: 0 off, variance 4: 0.19947. */
export const normalDensity = (off: number, variance: number): number =>
  Math.exp((-off * off) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
