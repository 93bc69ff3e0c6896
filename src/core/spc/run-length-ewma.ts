import { normalCdf, normalPdf, normalSurvival } from './normal.js';
import { pointsFor, type RunKernel, type Standing, solveRunLength, stepStanding, totalMass } from './run-kernel.js';

/**
 * How many readings an EWMA chart takes on average until it signals, steady or moving: how often it cries wolf, and how
 * soon it finds a shift or a drift that begins with the first reading.
 * How: integral equation for fixed limits and a steady shift; for limits exact in time the distribution is carried
 * forward until the limits have settled and the equation takes over; under a drift it is carried to the end.
 * In: all in sigmas of the readings (shift, drift a reading, head start), weight in (0, 1], width as charted. The mean
 * of reading t is shift + drift x t. Out: readings, the one that signals counted.
 * Errors: weight or width out of range throws; under a drift too small to end within 200,000 readings, or a
 * weight below about 1/8000, NaN.
 * Source: S. V. Crowder (1987), Technometrics 29, 401-407; J. M. Lucas and M. S. Saccucci (1990), Technometrics 32,
 * 1-12; drift: F. F. Gan (1991), J. Statist. Comput. Simul. 38, 181-200.
 * Example: weight 0.2, width 2.962, no shift: 499.735; shift 1: 10.5 (Lucas and Saccucci print 500 and 10.5).
 */
export type EwmaRunOptions = {
  readonly weight: number;
  readonly width: number;
  readonly shift?: number;
  readonly drift?: number;
  readonly sides?: 1 | 2;
  readonly limits?: 'fixed' | 'exact';
  readonly headStart?: number;
};

export const ewmaRunLength = (options: EwmaRunOptions): number => {
  const { weight, width, shift = 0, drift = 0, limits = 'fixed', headStart = 0 } = options;
  if (!(weight > 0 && weight <= 1) || !(width > 0)) {
    throw new RangeError(`the weight must lie in (0, 1] and the width above 0, got ${weight} and ${width}`);
  }
  const settled = settledReach(options);
  const count = pointsFor(options.sides === 1 ? 0 : -settled, settled, weight);
  if (count > MOST_POINTS) return Number.NaN;
  if (drift === 0 && limits === 'fixed') return solveRunLength(kernelAt(options, shift, settled), count)(headStart);
  let standing: Standing = { places: [headStart], mass: [1] };
  let length = 0;
  for (let t = 1; t <= 200_000; t += 1) {
    const alive = totalMass(standing);
    if (alive < 1e-14) return length;
    const share = limits === 'fixed' || weight === 1 ? 1 : -Math.expm1(2 * t * Math.log1p(-weight));
    if (drift === 0 && share > 1 - 1e-14) return length + restOf(options, shift, settled, count, standing);
    length += alive;
    standing = stepStanding(kernelAt(options, shift + drift * t, settled * Math.sqrt(share)), standing, count);
  }
  return Number.NaN;
};

/** Beyond this many points across the interval the equation is no longer quick to solve. */
const MOST_POINTS = 1500;

const settledReach = ({ weight, width }: EwmaRunOptions): number => width * Math.sqrt(weight / (2 - weight));

/** What is still to come, from the standing where the limits have settled. */
const restOf = (options: EwmaRunOptions, mean: number, reach: number, count: number, standing: Standing): number => {
  const from = solveRunLength(kernelAt(options, mean, reach), count);
  return standing.places.reduce((sum, place, i) => sum + (standing.mass[i] ?? 0) * from(place), 0);
};

const kernelAt = ({ weight, sides = 2 }: EwmaRunOptions, mean: number, reach: number): RunKernel => {
  const density = (now: number, next: number): number =>
    normalPdf((next - (1 - weight) * now) / weight - mean) / weight;
  const above = (now: number): number => normalSurvival((reach - (1 - weight) * now) / weight - mean);
  const below = (now: number): number => normalCdf((-reach - (1 - weight) * now) / weight - mean);
  if (sides === 2) return { from: -reach, to: reach, density, signals: (now) => above(now) + below(now) };
  const chance = (now: number): number => normalCdf((-(1 - weight) * now) / weight - mean);
  return { from: 0, to: reach, density, signals: above, lump: { at: 0, chance } };
};
