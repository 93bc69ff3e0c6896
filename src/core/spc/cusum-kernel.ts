import { normalCdf, normalPdf, normalSurvival } from './normal.js';
import { pointsFor, type RunKernel } from './run-kernel.js';

/** A CUSUM in sigmas: what is taken off each reading, and the limit of the sum. */
export type CusumScheme = { readonly slack: number; readonly decision: number };

/** How the upper sum moves when the readings have the given mean (for the lower sum, the opposite mean). */
export const cusumKernel = ({ slack, decision }: CusumScheme, mean: number): RunKernel => ({
  from: 0,
  to: decision,
  density: (now, next) => normalPdf(next - now + slack - mean),
  signals: (now) => normalSurvival(decision - now + slack - mean),
  lump: { at: 0, chance: (now) => normalCdf(slack - mean - now) },
});

export const cusumPoints = ({ decision }: CusumScheme): number => pointsFor(0, decision, 1);
