import { normalCdf } from './normal.js';
import { readingsRunLength } from './run-length-readings.js';
import type { ChainRule } from './zone-chain.js';
import { CHAIN_ZONES, SPOKEN, type ZoneChain, zoneChain } from './zone-chain.js';

/**
 * How many readings a chart with zone rules takes on average until one of them speaks, steady or drifting.
 * How: the Markov chain of the rules carried forward; once the share that speaks no longer changes from reading to
 * reading, what is left goes at that share. Beyond-limits alone has one state and is the plain chart.
 * In: shift and drift a reading in sigmas; the width of the limits, the zones at thirds of it. The mean of reading t is
 * shift + drift x t. Out: readings, the one that signals counted. six-trend and fourteen-alternating: `readingsRunLength`.
 * NaN where a drift is too small to end within 1,000,000 readings.
 * Source: C. W. Champ and W. H. Woodall (1987), Technometrics 29, 393-399; drift: L. A. Aerne, C. W. Champ and S. E.
 * Rigdon (1991), Commun. Statist. Theory Methods 20. Example: beyond-limits, two-of-three, four-of-five and
 * eight-one-side together: 91.75 with no shift.
 */
export type ZoneRunOptions = {
  readonly rules: readonly ChainRule[];
  readonly width?: number;
  readonly shift?: number;
  readonly drift?: number;
  readonly sides?: 1 | 2;
};

export const zoneRunLength = (options: ZoneRunOptions): number => {
  const { rules, width = 3, shift = 0, drift = 0, sides = 2 } = options;
  if (!(width > 0)) throw new RangeError(`the width must be above 0, got ${width}`);
  const trend = rules.includes('six-trend');
  const alternating = rules.includes('fourteen-alternating');
  if (trend || alternating) {
    const zoneRules = rules.filter((rule) => rule !== 'six-trend' && rule !== 'fourteen-alternating');
    return readingsRunLength({ zoneRules, trend, alternating, width, shift, drift, sides });
  }
  const chain = zoneChain(rules, sides);
  if (chain === null) return Number.NaN;
  return carry(chain, (t) => zoneChances(width, shift + drift * t), drift === 0);
};

const MOST_READINGS = 1_000_000;

const carry = (chain: ZoneChain, chancesAt: (t: number) => readonly number[], steady: boolean): number => {
  let share = new Float64Array(chain.next.length);
  share[0] = 1;
  let alive = 1;
  let length = 0;
  let hazard = 0;
  let settledFor = 0;
  for (let t = 1; t <= MOST_READINGS; t += 1) {
    length += alive;
    const { after, spoken } = oneReading(chain, share, chancesAt(t));
    const before = hazard;
    hazard = spoken;
    const kept = after.reduce((sum, part) => sum + part, 0);
    alive *= kept;
    if (alive < 1e-15) return length;
    share = after.map((part) => part / kept);
    settledFor = hazard > 0 && Math.abs(hazard - before) <= 1e-14 * hazard ? settledFor + 1 : 0;
    if (steady && settledFor >= 20) return length + alive / hazard;
  }
  return Number.NaN;
};

const oneReading = (
  chain: ZoneChain,
  share: Float64Array,
  chances: readonly number[],
): { readonly after: Float64Array; readonly spoken: number } => {
  const after = new Float64Array(share.length);
  let spoken = 0;
  for (let state = 0; state < share.length; state += 1) {
    const part = share[state] ?? 0;
    if (part === 0) continue;
    const row = chain.next[state] ?? [];
    for (let zone = 0; zone < row.length; zone += 1) {
      const to = row[zone] ?? SPOKEN;
      const moved = part * (chances[zone] ?? 0);
      if (to === SPOKEN) spoken += moved;
      else after[to] = (after[to] ?? 0) + moved;
    }
  }
  return { after, spoken };
};

/** The chance of each zone when the mean lies off the centre, in the order of CHAIN_ZONES. */
const zoneChances = (width: number, mean: number): readonly number[] => {
  const third = width / 3;
  return CHAIN_ZONES.map((zone) => {
    const side = Math.sign(zone);
    const inner = (Math.abs(zone) - 1) * third - side * mean;
    const beyond = normalCdf(-inner);
    return Math.abs(zone) === 4
      ? beyond
      : inner > 0
        ? beyond - normalCdf(-inner - third)
        : normalCdf(inner + third) - normalCdf(inner);
  });
};
