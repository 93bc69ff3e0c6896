import { learnMove } from '../adjust/response.js';
import type { Judged, Turned } from './state.js';

/** What the moves read at this check teach of their knobs; a move with teeth in it teaches nothing of the knob, nor one whose size is only being measured. */
export const learnKnobs = (
  knobs: Judged['knobs'],
  before: readonly Turned[],
  now: readonly Turned[],
): Judged['knobs'] => {
  const known = new Set(before.flatMap((t) => (t.result === null ? [] : [t.seq])));
  let learned = knobs;
  for (const t of now) {
    const of = learned[t.station];
    if (t.result === null || known.has(t.seq) || of === undefined || (t.teeth ?? 0) !== 0 || t.trial) continue;
    const move = { asked_mm: t.move_mm, got_mm: t.result.got_mm, got_sd_mm: t.got_sd_mm ?? Number.POSITIVE_INFINITY };
    learned = { ...learned, [t.station]: { ...of, [t.axis]: learnMove(of[t.axis], move) } };
  }
  return learned;
};
