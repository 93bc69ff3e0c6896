import { CHAIN_ZONES, SPOKEN, type ZoneChain } from './zone-chain.js';
import { ALTERNATING_READINGS, TREND_READINGS } from './zone-rules.js';

/**
 * What zone rules, six-trend and fourteen-alternating together need to remember, as a chain: from each memory, where a
 * step up or down into each zone leads, or that a rule speaks.
 * How: a memory is the state of the zone chain, the steps in a row one way (signed) and the turns in a row; memories
 * are found by following every step from the first reading.
 * Out: `first`: the memory after a first reading in each zone; `next`: for each memory 16 places, eight zones down then
 * eight up; `zones`: for each memory the zones its newest reading may lie in.
 * Example: six-trend alone has 9 memories.
 */
export type ReadingsChain = {
  readonly first: readonly number[];
  readonly next: readonly (readonly number[])[];
  readonly zones: readonly ReadonlySet<number>[];
};

type Memory = { readonly state: number; readonly trend: number; readonly turns: number };

export const readingsChain = (chain: ZoneChain, watchTrend: boolean, watchTurns: boolean): ReadingsChain => {
  const places = new Map<string, number>();
  const memories: Memory[] = [];
  const zones: Set<number>[] = [];
  const placeOf = (memory: Memory, zone: number): number => {
    const key = `${memory.state},${memory.trend},${memory.turns}`;
    const place = places.get(key) ?? memories.length;
    if (place === memories.length) {
      places.set(key, place);
      memories.push(memory);
      zones.push(new Set());
    }
    zones[place]?.add(zone);
    return place;
  };
  const into = (from: number, steps: Omit<Memory, 'state'> | null): number[] =>
    CHAIN_ZONES.map((_, zone) => {
      const state = chain.next[from]?.[zone] ?? SPOKEN;
      return steps === null || state === SPOKEN ? SPOKEN : placeOf({ ...steps, state }, zone);
    });
  const first = into(0, { trend: 0, turns: 0 });
  const next: number[][] = [];
  for (let at = 0; at < memories.length; at += 1) {
    const memory = memories[at] ?? { state: 0, trend: 0, turns: 0 };
    next.push([-1, 1].flatMap((way) => into(memory.state, stepped(memory, way, watchTrend, watchTurns))));
  }
  return { first, next, zones };
};

/** The steps one way and the turns after a step up (1) or down (-1), or null when a rule speaks. */
const stepped = (
  { trend, turns }: Memory,
  way: number,
  watchTrend: boolean,
  watchTurns: boolean,
): Omit<Memory, 'state'> | null => {
  const same = Math.sign(trend) === way;
  const inARow = same ? trend + way : way;
  const turned = trend !== 0 && !same ? turns + 1 : 1;
  if (watchTrend && Math.abs(inARow) >= TREND_READINGS - 1) return null;
  if (watchTurns && turned >= ALTERNATING_READINGS - 1) return null;
  return { trend: watchTrend ? inARow : way, turns: watchTurns ? turned : 1 };
};
