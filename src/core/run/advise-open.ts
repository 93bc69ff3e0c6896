import type { AdviceFinding } from '../finding.js';
import { adviceFor, type PerAxisLevels } from './advise.js';
import { hushFor } from './hush.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';

const RANK = { out: 0, act: 1, note: 2 } as const;

/**
 * What to turn for every open movement that is to be acted on, the gravest first. One knob is spoken of by one movement at a time; and
 * where the reference is to be moved, all else on that axis waits, for it shifts every reading.
 */
export const adviseOpen = (seen: SeenCheck, judged: Judged, levels: PerAxisLevels): Judged => {
  const { press, job, stations } = seen;
  const order = judged.movements
    .filter((m) => m.closed === null && m.severity !== 'note')
    .sort((a, b) => RANK[a.severity] - RANK[b.severity] || b.confidence - a.confidence || a.key - b.key);
  const given = new Map<number, AdviceFinding>();
  const spoken = new Set<string>();
  for (const m of order) {
    const hush = hushFor(seen, judged, m, levels);
    const advice = adviceFor(press, job, judged, stations, m, levels, hush);
    const taken =
      spoken.has(`${judged.reference} ${m.axis}`) ||
      advice.moves.some((move) => spoken.has(`${move.station} ${move.axis}`));
    if (taken && advice.moves.length > 0)
      given.set(m.key, adviceFor(press, job, judged, stations, m, levels, FIRST_THE_OTHER));
    else given.set(m.key, advice);
    for (const move of given.get(m.key)?.moves ?? []) spoken.add(`${move.station} ${move.axis}`);
  }
  return {
    ...judged,
    movements: judged.movements.map((m): Movement => ({ ...m, advice: given.get(m.key) ?? m.advice })),
  };
};

const FIRST_THE_OTHER = {
  why: 'Another movement on this axis is dealt with first; what is left shows on the sample after it.',
};
