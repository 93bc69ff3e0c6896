import { cusumSignalChances } from './cusum-carried.js';
import { type CusumScheme, cusumKernel, cusumPoints } from './cusum-kernel.js';
import { solveRunLength } from './run-kernel.js';
import { cusumBothSides } from './run-length-cusum-both.js';
import { cusumBothSidesDrift } from './run-length-cusum-drift.js';

/**
 * How many readings a CUSUM chart takes on average until it signals, steady or moving.
 * How: integral equation with the lump of probability at zero; two-sided by `cusumBothSides`; under a drift the
 * distribution is carried forward reading by reading (two-sided: `cusumBothSidesDrift`).
 * In: slack, decision, shift, drift a reading and head start in sigmas. The mean of reading t is shift + drift x t.
 * Out: readings, the one that signals counted; NaN where a drift is too small to end within 200,000 readings,
 * or the decision is above about 560.
 * Errors: slack below 0 or decision not above 0 throws.
 * Source: E. S. Page (1954), Biometrika 41, 100-115; J. M. Lucas and R. B. Crosier (1982), Technometrics 24, 199-205;
 * drift: F. F. Gan (1992), The Statistician 41, 71-84.
 * Example: slack 0.25, decision 8, shift 2.5: one-sided 4.15008, two-sided 4.15008, with head start 0.1 4.10616.
 */
export type CusumRunOptions = CusumScheme & {
  readonly shift?: number;
  readonly drift?: number;
  readonly sides?: 1 | 2;
  readonly headStart?: number;
};

export const cusumRunLength = (options: CusumRunOptions): number => {
  const { slack, decision, shift = 0, drift = 0, sides = 2, headStart = 0 } = options;
  if (!(slack >= 0) || !(decision > 0)) {
    throw new RangeError(`the slack must be 0 or more and the decision above 0, got ${slack} and ${decision}`);
  }
  const scheme = { slack, decision };
  if (cusumPoints(scheme) > MOST_POINTS) return Number.NaN;
  if (drift !== 0) {
    return sides === 1
      ? oneSidedDrift(scheme, shift, drift, headStart)
      : cusumBothSidesDrift(scheme, shift, drift, headStart);
  }
  if (sides === 2) return cusumBothSides(scheme, shift, headStart);
  return solveRunLength(cusumKernel(scheme, shift), cusumPoints(scheme))(headStart);
};

const oneSidedDrift = (scheme: CusumScheme, shift: number, drift: number, start: number): number => {
  const chances = cusumSignalChances(scheme, (t) => shift + drift * t, { places: [start], mass: [1] }, MOST_READINGS);
  if (chances.length >= MOST_READINGS) return Number.NaN;
  return chances.reduce((sum, chance, i) => sum + (i + 1) * chance, 0);
};

const MOST_READINGS = 200_000;
/** Beyond this many points across the interval the equation is no longer quick to solve. */
const MOST_POINTS = 1500;
