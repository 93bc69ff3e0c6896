import { gaussLegendre } from './gauss-legendre.js';
import { normalPdf } from './normal.js';
import { type ReadingsChain, readingsChain } from './readings-chain.js';
import { runningIntegral } from './running-integral.js';
import { CHAIN_ZONES, type ChainRule, SPOKEN, zoneChain } from './zone-chain.js';

/**
 * How many readings a chart takes on average until a rule speaks, when the rules include six-trend or
 * fourteen-alternating, which look at the readings themselves and not only at their zones.
 * How: for every memory of the rules (`readingsChain`) the distribution of the newest reading is carried from reading
 * to reading, at Gauss-Legendre points in each zone: a step up comes from all readings below, a step down from all
 * above. Once the share that speaks no longer changes, what is left goes at that share.
 * In and out: as `zoneRunLength`; the other rules may be any with a chain. NaN under a drift unless beyond-limits on
 * both sides keeps the readings within bounds.
 * Source: worked out here; checked by simulation. Example: six-trend with beyond-limits: 198.62 without a shift.
 */
export type ReadingsRunOptions = {
  readonly zoneRules: readonly ChainRule[];
  readonly trend: boolean;
  readonly alternating: boolean;
  readonly width: number;
  readonly shift: number;
  readonly drift: number;
  readonly sides: 1 | 2;
};

export const readingsRunLength = (options: ReadingsRunOptions): number => {
  const { zoneRules, width, shift, drift, sides } = options;
  const bounded = zoneRules.includes('beyond-limits') && sides === 2;
  const zones = zoneChain(zoneRules, sides);
  if (zones === null || (drift !== 0 && !bounded)) return Number.NaN;
  const chain = readingsChain(zones, options.trend, options.alternating);
  const grid = gridOf(width, bounded ? 0 : Math.abs(shift) + 8.5);
  let densities = firstReading(chain, grid, shift + drift);
  let alive = massOf(chain, grid, densities);
  let length = 1;
  let hazard = 0;
  let settledFor = 0;
  for (let t = 2; t <= MOST_READINGS && alive > 1e-14; t += 1) {
    length += alive;
    densities = oneReading(chain, grid, densities, shift + drift * t);
    const left = massOf(chain, grid, densities);
    const before = hazard;
    hazard = 1 - left / alive;
    alive = left;
    settledFor = hazard > 0 && Math.abs(hazard - before) <= 1e-11 * hazard ? settledFor + 1 : 0;
    if (drift === 0 && settledFor >= 20) return length + alive / hazard;
  }
  return alive > 1e-14 ? Number.NaN : length;
};

const MOST_READINGS = 20_000;

/** The points of one zone within the points of all; zones that always speak have none. */
type Panel = {
  readonly zone: number;
  readonly start: number;
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
  readonly integral: readonly Float64Array[];
  readonly half: number;
};

type Grid = { readonly panels: readonly Panel[]; readonly size: number };

const gridOf = (width: number, farthest: number): Grid => {
  const panels: Panel[] = [];
  let start = 0;
  CHAIN_ZONES.forEach((zone, place) => {
    const inner = ((Math.abs(zone) - 1) * width) / 3;
    const far = Math.abs(zone) === 4 ? farthest : (Math.abs(zone) * width) / 3;
    if (far <= inner) return;
    const [from, to] = zone > 0 ? [inner, far] : [-far, -inner];
    const count = Math.ceil(8 + 3.5 * (to - from));
    panels.push({
      zone: place,
      start,
      ...gaussLegendre(count, from, to),
      integral: runningIntegral(count),
      half: (to - from) / 2,
    });
    start += count;
  });
  return { panels, size: start };
};

const firstReading = (chain: ReadingsChain, grid: Grid, mean: number): Float64Array => {
  const densities = new Float64Array(chain.next.length * grid.size);
  for (const { zone, start, nodes } of grid.panels) {
    const memory = chain.first[zone] ?? SPOKEN;
    if (memory === SPOKEN) continue;
    nodes.forEach((node, j) => {
      densities[memory * grid.size + start + j] = normalPdf(node - mean);
    });
  }
  return densities;
};

const oneReading = (chain: ReadingsChain, grid: Grid, before: Float64Array, mean: number): Float64Array => {
  const after = new Float64Array(before.length);
  const below = new Float64Array(grid.size);
  const chances = Float64Array.from(grid.panels.flatMap(({ nodes }) => nodes.map((node) => normalPdf(node - mean))));
  for (let memory = 0; memory < chain.next.length; memory += 1) {
    const total = massBelow(chain, grid, before, memory, below);
    if (total === 0) continue;
    const next = chain.next[memory] ?? [];
    for (const { zone, start, nodes } of grid.panels) {
      const down = next[zone] ?? SPOKEN;
      const up = next[zone + CHAIN_ZONES.length] ?? SPOKEN;
      for (let j = start; j < start + nodes.length; j += 1) {
        const chance = chances[j] ?? 0;
        const under = below[j] ?? 0;
        if (up !== SPOKEN) after[up * grid.size + j] = (after[up * grid.size + j] ?? 0) + chance * under;
        if (down !== SPOKEN)
          after[down * grid.size + j] = (after[down * grid.size + j] ?? 0) + chance * (total - under);
      }
    }
  }
  return after;
};

/** Fills in how much of a memory's readings lies below each point; gives all of it. */
const massBelow = (
  chain: ReadingsChain,
  grid: Grid,
  densities: Float64Array,
  memory: number,
  below: Float64Array,
): number => {
  let total = 0;
  const first = memory * grid.size;
  for (const { zone, start, nodes, weights, integral, half } of grid.panels) {
    const has = chain.zones[memory]?.has(zone) ?? false;
    let mass = 0;
    for (let j = 0; j < nodes.length; j += 1) {
      let under = 0;
      const row = integral[j] ?? below;
      if (has) for (let i = 0; i < nodes.length; i += 1) under += (row[i] ?? 0) * (densities[first + start + i] ?? 0);
      below[start + j] = total + half * under;
      if (has) mass += (weights[j] ?? 0) * (densities[first + start + j] ?? 0);
    }
    total += mass;
  }
  return total;
};

const massOf = (chain: ReadingsChain, grid: Grid, densities: Float64Array): number => {
  let mass = 0;
  for (let memory = 0; memory < chain.next.length; memory += 1) {
    for (const { start, weights } of grid.panels) {
      for (let j = 0; j < weights.length; j += 1)
        mass += (weights[j] ?? 0) * (densities[memory * grid.size + start + j] ?? 0);
    }
  }
  return mass;
};
