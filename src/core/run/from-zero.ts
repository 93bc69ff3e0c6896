import type { PerAxis } from '../axis.js';
import { movedHolds } from '../hold/hold.js';
import type { Judged, LastRead } from './state.js';

/**
 * OK to run makes the counter of that moment the zero of the web position: what was written in make-ready, by the press counter, is told
 * from there on as so many metres before it (negative). From here on records carry positions counted from OK to run.
 */
export const countFromZero = (judged: Judged, zero_m: number): Judged =>
  zero_m === 0
    ? judged
    : {
        ...movePlaces(judged, (m) => m - zero_m),
        zero_m,
        counter_offset_m: judged.counter_offset_m - zero_m,
        counters: judged.counters.map((c) => ({
          from_m: c.from_m === null ? null : c.from_m - zero_m,
          offset_m: c.offset_m - zero_m,
        })),
      };

/**
 * The counter was read at `read_m`, below what had been reckoned from speed and clock since it was keyed last: what was reckoned to lie
 * beyond gives way to it. The order of what happened stays.
 */
export const giveWay = (judged: Judged, read_m: number): Judged =>
  judged.web.base_m <= read_m && (judged.last_check?.web_m ?? read_m) <= read_m
    ? judged
    : movePlaces(judged, (m) => Math.min(m, read_m));

/** Every place on the web that is remembered, told anew. */
const movePlaces = (judged: Judged, from: (m: number) => number): Judged => {
  const maybe = (m: number | null): number | null => (m === null ? null : from(m));
  const read = (last: LastRead): LastRead => ({ ...last, web_m: maybe(last.web_m) });
  return {
    ...judged,
    web: { ...judged.web, base_m: from(judged.web.base_m), keyed_m: maybe(judged.web.keyed_m) },
    pulls: judged.pulls.map((p) => ({ ...p, web_m: from(p.web_m) })),
    turns: judged.turns.map((t) => ({ ...t, web_m: from(t.web_m) })),
    marks: judged.marks.map((m) => ({ ...m, web_m: from(m.web_m) })),
    trail: judged.trail.map((t) => ({ ...t, web_m: from(t.web_m) })),
    last_check: judged.last_check === null ? null : { ...judged.last_check, web_m: from(judged.last_check.web_m) },
    holds: movedHolds(judged.holds, from),
    roll: { ...judged.roll, off_m: maybe(judged.roll.off_m), stock_m: maybe(judged.roll.stock_m) },
    tension_looked_m: maybe(judged.tension_looked_m),
    settle_from_m: maybe(judged.settle_from_m),
    settle_until_m: maybe(judged.settle_until_m),
    read: Object.fromEntries(
      Object.entries(judged.read).map(([id, r]): [string, PerAxis<LastRead>] => [
        id,
        { along: read(r.along), across: read(r.across) },
      ]),
    ),
  };
};
