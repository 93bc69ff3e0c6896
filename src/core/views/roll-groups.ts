import type { RollView } from './roll-views.js';

/** Rolls that stand alike and follow each other, told together. */
export type RollGroup = { readonly state: RollView['state']; readonly rolls: readonly string[] };

/** How a roll stands, in a word; HELD in capitals, as colour is never the only sign. */
export const ROLL_WORD: Readonly<Record<RollView['state'], string>> = {
  good: 'good',
  held: 'HELD',
  'not told': 'not told',
};

/** Finished rolls in their order, those that stand alike in one group. */
export const rollGroups = (rolls: readonly RollView[]): readonly RollGroup[] => {
  const begins = rolls.flatMap(({ state }, i) => (rolls[i - 1]?.state === state ? [] : [{ state, i }]));
  return begins.map(({ state, i }, n) => ({
    state,
    rolls: rolls.slice(i, begins[n + 1]?.i).map(({ roll }) => roll),
  }));
};
