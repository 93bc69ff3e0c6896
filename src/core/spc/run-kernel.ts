import { absorbingTimes } from './absorbing-times.js';
import { gaussLegendre } from './gauss-legendre.js';

/**
 * How a chart's statistic moves from one reading to the next while it does not signal: a density over the interval
 * between its limits, and perhaps a lump of probability at one place (a sum put back to zero). The run length from any
 * starting place follows by an integral equation (no drift), or by carrying the distribution forward (drift).
 * How: Gauss-Legendre points across the interval; the equation L(s) = 1 + L(lump) P(s to lump) + integral of L(y)
 * density(s to y) is solved at the points (`absorbingTimes`, so that long runs keep their digits) and read off
 * anywhere else by the equation itself (Nystrom).
 * Source: E. S. Page (1954), Biometrika 41, 100-115 (the equation); S. V. Crowder (1987), Technometrics 29, 401-407
 * (for the EWMA); K. E. Atkinson (1997), The Numerical Solution of Integral Equations (the method).
 */
export type RunKernel = {
  readonly from: number;
  readonly to: number;
  /** Density of the next statistic at `next`, given it stands at `now`. */
  readonly density: (now: number, next: number) => number;
  /** The chance that the chart signals at the next reading. */
  readonly signals: (now: number) => number;
  /** Where a lump of probability gathers, and the chance of going there from `now`. */
  readonly lump?: { readonly at: number; readonly chance: (now: number) => number };
};

/** Points that carry a normal step of `scatter` across the interval to full precision. */
export const pointsFor = (from: number, to: number, scatter: number): number =>
  Math.ceil(24 + (2.6 * (to - from)) / scatter);

/** The mean run length as a function of where the statistic starts. */
export const solveRunLength = (kernel: RunKernel, count: number): ((start: number) => number) => {
  const { nodes, weights } = gaussLegendre(count, kernel.from, kernel.to);
  const lump = kernel.lump;
  const starts = lump === undefined ? nodes : [...nodes, lump.at];
  const size = starts.length;
  const moves = starts.map((now) => {
    const row = new Float64Array(size);
    for (let j = 0; j < count; j += 1) row[j] = (weights[j] ?? 0) * kernel.density(now, nodes[j] ?? 0);
    if (lump !== undefined) row[count] = lump.chance(now);
    return row;
  });
  const lengths = absorbingTimes(moves, Float64Array.from(starts, kernel.signals));
  return (start) => {
    let sum = 1;
    if (lump !== undefined && lump.chance(start) > 0) sum += lump.chance(start) * (lengths[count] ?? 0);
    for (let j = 0; j < count; j += 1) {
      const chance = (weights[j] ?? 0) * kernel.density(start, nodes[j] ?? 0);
      if (chance > 0) sum += chance * (lengths[j] ?? 0);
    }
    return sum;
  };
};

/** Where the statistic is, among charts that have not signalled: mass at points, the last of them perhaps a lump. */
export type Standing = { readonly places: readonly number[]; readonly mass: readonly number[] };

/** The standing after one more reading. The kernel may change from reading to reading. */
export const stepStanding = (kernel: RunKernel, before: Standing, count: number): Standing => {
  const { nodes, weights } = gaussLegendre(count, kernel.from, kernel.to);
  const mass = new Array<number>(count).fill(0);
  let lumped = 0;
  before.places.forEach((place, i) => {
    const had = before.mass[i] ?? 0;
    if (had === 0) return;
    for (let j = 0; j < count; j += 1) {
      mass[j] = (mass[j] ?? 0) + had * (weights[j] ?? 0) * kernel.density(place, nodes[j] ?? 0);
    }
    if (kernel.lump !== undefined) lumped += had * kernel.lump.chance(place);
  });
  if (kernel.lump === undefined) return { places: nodes, mass };
  return { places: [...nodes, kernel.lump.at], mass: [...mass, lumped] };
};

export const totalMass = (standing: Standing): number => standing.mass.reduce((sum, part) => sum + part, 0);
