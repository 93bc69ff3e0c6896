import type { CusumScheme } from './cusum-kernel.js';
import { cusumPoints } from './cusum-kernel.js';
import { gaussLegendre } from './gauss-legendre.js';
import { normalCdf, normalPdf } from './normal.js';

/**
 * The chance that an upper CUSUM signals at reading 1, 2, 3, ... when the mean changes from reading to reading.
 * How: the distribution of the sum (points across the interval and the lump at zero) is carried forward. The density of
 * a step of mean m is that of a step of mean 0 times exp(m x step - m^2 / 2), so each reading costs multiplications
 * only.
 * In: the scheme and the means in sigmas, where the sum starts, at most how many readings. Out: one chance a reading,
 * until less than 1e-13 is left.
 * Example: slack 0.5, decision 4, all means 0, from 0: the chances add up to 1 and their mean place is 335.37.
 */
export const cusumSignalChances = (
  scheme: CusumScheme,
  mean: (t: number) => number,
  start: number,
  most: number,
): Float64Array => {
  const { slack, decision } = scheme;
  const { nodes, weights } = gaussLegendre(cusumPoints(scheme), 0, decision);
  const count = nodes.length;
  const still = stillSteps(nodes, weights, slack);
  const chances: number[] = [];
  let mass = new Float64Array(count + 1);
  let alive = 0;
  for (let t = 1; t <= most; t += 1) {
    const m = mean(t);
    const next = new Float64Array(count + 1);
    const scale = Math.exp(m * slack - 0.5 * m * m);
    const tilts = Float64Array.from(nodes, (node) => Math.exp(m * node));
    if (t === 1) {
      nodes.forEach((node, j) => {
        next[j] = (weights[j] ?? 0) * normalPdf(node - start + slack - m);
      });
      next[count] = normalCdf(slack - m - start);
      alive = 1;
    } else {
      for (let i = 0; i <= count; i += 1) {
        const place = i < count ? (nodes[i] ?? 0) : 0;
        const tilted = ((mass[i] ?? 0) * scale) / (i < count ? (tilts[i] ?? 1) : 1);
        const row = still[i] ?? mass;
        for (let j = 0; j < count; j += 1) next[j] = (next[j] ?? 0) + tilted * (row[j] ?? 0);
        next[count] = (next[count] ?? 0) + (mass[i] ?? 0) * normalCdf(slack - m - place);
      }
      for (let j = 0; j < count; j += 1) next[j] = (next[j] ?? 0) * (tilts[j] ?? 1);
    }
    const left = next.reduce((sum, part) => sum + part, 0);
    chances.push(alive - left);
    mass = next;
    alive = left;
    if (alive < 1e-13) break;
  }
  return Float64Array.from(chances);
};

/** Weighted densities of a step of mean 0 from every point (and last from the lump) to every point. */
const stillSteps = (nodes: readonly number[], weights: readonly number[], slack: number): readonly Float64Array[] =>
  [...nodes, 0].map((now) => Float64Array.from(nodes, (next, j) => (weights[j] ?? 0) * normalPdf(next - now + slack)));
