import { sameCause } from './announce.js';
import type { Judged, Movement, Said } from './state.js';

/**
 * After the judgement was made anew, gives each movement that was spoken of the number it was spoken of under: same axis and same cause
 * first, then same axis and begun at about the same place. What is found no more stays without a movement, and is told as withdrawn.
 */
export const rematch = (said: Said, before: Judged, after: Judged): Said => {
  const free = new Set(after.movements.map((m) => m.key));
  const take = (fits: (m: Movement) => boolean): number | null => {
    const found = after.movements.find((m) => free.has(m.key) && fits(m));
    if (found === undefined) return null;
    free.delete(found.key);
    return found.key;
  };
  const was = new Map(before.movements.map((m) => [m.key, m]));
  const firstPass = said.events.map((e) => {
    const old = was.get(e.key);
    return take(
      (m) =>
        m.axis === e.axis && sameCause(m.cause, e.cause) && (old === undefined || m.opened.check === old.opened.check),
    );
  });
  const events = said.events.map((e, i) => {
    const old = was.get(e.key);
    const key =
      firstPass[i] ??
      take((m) => m.axis === e.axis && (sameCause(m.cause, e.cause) || m.opened.check === old?.opened.check)) ??
      GONE - e.id;
    return { ...e, key };
  });
  return { ...said, events };
};

/** No movement has a key below zero: nothing will answer to it. */
const GONE = -1;
