import type { CusumScheme } from './cusum-kernel.js';
import { cusumPoints } from './cusum-kernel.js';
import { gaussLegendre, type Quadrature } from './gauss-legendre.js';
import { normalCdf, normalPdf } from './normal.js';
import type { Standing } from './run-kernel.js';

/**
 * The chance that an upper CUSUM signals at reading 1, 2, 3, ... when the mean changes from reading to reading.
 * How: the distribution of the sum (points across the interval and the lump at zero) is carried forward. The density of
 * a step of mean m is that of a step of mean 0 times exp(m x step - m^2 / 2), so each reading costs multiplications
 * only.
 * In: the scheme and the means in sigmas, where the sum starts (one place, or mass at
 * several), at most how many readings. Out: one chance a reading,
 * until less than 1e-13 is left.
 * Example: slack 0.5, decision 4, all means 0, from 0: the chances add up to 1 and their mean place is 335.37.
 */
export const cusumSignalChances = (
  scheme: CusumScheme,
  mean: (t: number) => number,
  start: Standing,
  most: number,
): Float64Array => {
  const { slack, decision } = scheme;
  const rule = gaussLegendre(cusumPoints(scheme), 0, decision);
  const { nodes, weights } = rule;
  const count = nodes.length;
  const still = stillSteps(nodes, weights, slack);
  const chances: number[] = [];
  let mass = new Float64Array(count + 1);
  let alive = 0;
  for (let t = 1; t <= most; t += 1) {
    const m = mean(t);
    const next = new Float64Array(count + 1);
    if (t === 1) {
      start.places.forEach((place, i) => {
        const had = start.mass[i] ?? 0;
        spread(next, had, place, rule, slack - m);
        next[count] = (next[count] ?? 0) + had * normalCdf(slack - m - place);
        alive += had;
      });
    } else {
      const tilting = Math.abs(m) * decision < MOST_TILT;
      for (let i = 0; i <= count; i += 1) {
        const had = mass[i] ?? 0;
        const place = i < count ? (nodes[i] ?? 0) : 0;
        if (!tilting) spread(next, had, place, rule, slack - m);
        next[count] = (next[count] ?? 0) + had * normalCdf(slack - m - place);
      }
      if (tilting) tilt(next, mass, rule, still, m, slack);
    }
    const left = next.reduce((sum, part) => sum + part, 0);
    chances.push(alive - left);
    mass = next;
    alive = left;
    if (alive < 1e-13) break;
  }
  return Float64Array.from(chances);
};

/** Beyond this, exp(mean x decision) leaves the range of doubles and the densities are worked out one by one. */
const MOST_TILT = 600;

/** Adds the mass at one place to every point it can step to. */
const spread = (
  into: Float64Array,
  mass: number,
  place: number,
  { nodes, weights }: Quadrature,
  less: number,
): void => {
  for (let j = 0; j < nodes.length; j += 1) {
    into[j] = (into[j] ?? 0) + mass * (weights[j] ?? 0) * normalPdf((nodes[j] ?? 0) - place + less);
  }
};

/** The same for all places at once, from the densities of a step of mean 0. */
const tilt = (
  into: Float64Array,
  mass: Float64Array,
  { nodes }: Quadrature,
  still: readonly Float64Array[],
  m: number,
  slack: number,
): void => {
  const count = nodes.length;
  const scale = Math.exp(m * slack - 0.5 * m * m);
  for (let i = 0; i <= count; i += 1) {
    const tilted = (mass[i] ?? 0) * scale * Math.exp(-m * (i < count ? (nodes[i] ?? 0) : 0));
    const row = still[i] ?? mass;
    for (let j = 0; j < count; j += 1) into[j] = (into[j] ?? 0) + tilted * (row[j] ?? 0);
  }
  for (let j = 0; j < count; j += 1) into[j] = (into[j] ?? 0) * Math.exp(m * (nodes[j] ?? 0));
};

/** Weighted densities of a step of mean 0 from every point (and last from the lump) to every point. */
const stillSteps = (nodes: readonly number[], weights: readonly number[], slack: number): readonly Float64Array[] =>
  [...nodes, 0].map((now) => Float64Array.from(nodes, (next, j) => (weights[j] ?? 0) * normalPdf(next - now + slack)));
