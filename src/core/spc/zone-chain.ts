import { NEAR_CENTRE_RUN, OFF_CENTRE_RUN, type RuleWord, SIDE_RULES, type SideRule } from './zone-rules.js';

/**
 * Everything a set of zone rules needs to remember, as the states of a Markov chain: from each state, where each of the
 * eight zones leads, or that a rule speaks.
 * How: for each rule and side the zones of its window are kept as bits, those dropped that can no longer matter; runs
 * near or off the centre as counts. States are found by following every zone from the empty memory.
 * Rules count from the first reading (two of the first two readings are two of three), as the published run lengths do;
 * charts wait for a full window. six-trend and fourteen-alternating look at the readings themselves, not at zones, and
 * have no such chain: null (`readingsChain` adds them).
 * Source: C. W. Champ and W. H. Woodall (1987), Technometrics 29, 393-399.
 * Example: two-of-three with beyond-limits has 7 states.
 */
export type ZoneChain = {
  /** For each state, the state after zone -4, -3, -2, -1, 1, 2, 3, 4; SPOKEN where a rule speaks. */
  readonly next: readonly (readonly number[])[];
};

export const SPOKEN = -1;
export const CHAIN_ZONES: readonly number[] = [-4, -3, -2, -1, 1, 2, 3, 4];

/** Rules by name, or windows given outright: `need` of the last `of` readings from zone `from` outward on one side. */
export type ChainRule = RuleWord | SideRule;

export const zoneChain = (rules: readonly ChainRule[], sides: 1 | 2 = 2): ZoneChain | null => {
  const parts: Part[] = [];
  for (const rule of rules) {
    const found = partsOf(rule, sides);
    if (found === null) return null;
    parts.push(...found);
  }
  const start = parts.map(() => 0);
  const places = new Map<string, number>([[start.join(), 0]]);
  const memories: (readonly number[])[] = [start];
  const next: number[][] = [];
  for (let at = 0; at < memories.length; at += 1) {
    const memory = memories[at] ?? start;
    next.push(CHAIN_ZONES.map((zone) => follow(parts, memory, zone, places, memories)));
  }
  return { next };
};

/** One rule on one side: its memory is one number, 0 at the start; null when it speaks. */
type Part = (memory: number, zone: number) => number | null;

const partsOf = (rule: ChainRule, sides: 1 | 2): readonly Part[] | null => {
  if (rule === 'fifteen-near-centre') return [nearCentre];
  if (rule === 'eight-off-centre') return [offCentre];
  const side = typeof rule === 'string' ? SIDE_RULES[rule] : rule;
  if (side === undefined) return null;
  return sides === 1 ? [windowPart(side, 1)] : [windowPart(side, 1), windowPart(side, -1)];
};

const follow = (
  parts: readonly Part[],
  memory: readonly number[],
  zone: number,
  places: Map<string, number>,
  memories: (readonly number[])[],
): number => {
  const after: number[] = [];
  for (let i = 0; i < parts.length; i += 1) {
    const found = parts[i]?.(memory[i] ?? 0, zone) ?? null;
    if (found === null) return SPOKEN;
    after.push(found);
  }
  const key = after.join();
  const known = places.get(key);
  if (known !== undefined) return known;
  places.set(key, memories.length);
  memories.push(after);
  return memories.length - 1;
};

/** Bit 0 is the newest reading. A bit is dropped once too few places are left for the window to fill up around it. */
const windowPart =
  ({ need, of, from }: SideRule, side: 1 | -1): Part =>
  (memory, zone) => {
    const inside = zone * side >= from;
    const window = (memory << 1) | (inside ? 1 : 0);
    if (inside && bitsIn(window & ((1 << of) - 1)) >= need) return null;
    let kept = 0;
    let count = 0;
    for (let age = 0; age < of - 1; age += 1) {
      if (((window >> age) & 1) === 0) continue;
      count += 1;
      if (count + (of - 1 - age) >= need) kept |= 1 << age;
    }
    return kept;
  };

const bitsIn = (window: number): number => {
  let count = 0;
  for (let rest = window; rest !== 0; rest >>= 1) count += rest & 1;
  return count;
};

const nearCentre: Part = (memory, zone) => {
  if (Math.abs(zone) > 1) return 0;
  return memory + 1 >= NEAR_CENTRE_RUN ? null : memory + 1;
};

/** Readings in a row off the centre (up to 7), how many of the last of them lie on the side of the newest, which side. */
const offCentre: Part = (memory, zone) => {
  if (Math.abs(zone) < 2) return 0;
  const run = Math.min(OFF_CENTRE_RUN, (memory & 7) + 1);
  const before = memory >> 3;
  const side = Math.sign(zone);
  const same = Math.sign(before) === side ? Math.min(OFF_CENTRE_RUN, Math.abs(before) + 1) : 1;
  if (run === OFF_CENTRE_RUN && same < OFF_CENTRE_RUN) return null;
  const most = OFF_CENTRE_RUN - 1;
  return Math.min(run, most) + 8 * side * Math.min(same, most);
};
