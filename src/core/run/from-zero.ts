import type { PerAxis } from '../axis.js';
import { holdFromZero } from '../hold/hold.js';
import type { Judged, LastRead } from './state.js';

/**
 * OK to run makes the counter of that moment the zero of the web position: what was written in make-ready, by the press counter, is told
 * from there on as so many metres before it (negative). From here on records carry positions counted from OK to run.
 */
export const countFromZero = (judged: Judged, zero_m: number): Judged => {
  if (zero_m === 0) return judged;
  const from = (m: number): number => m - zero_m;
  const maybe = (m: number | null): number | null => (m === null ? null : from(m));
  const read = (last: LastRead): LastRead => ({ ...last, web_m: maybe(last.web_m) });
  return {
    ...judged,
    zero_m,
    counter_offset_m: judged.counter_offset_m - zero_m,
    web: { ...judged.web, base_m: from(judged.web.base_m) },
    pulls: judged.pulls.map((p) => ({ ...p, web_m: from(p.web_m) })),
    turns: judged.turns.map((t) => ({ ...t, web_m: from(t.web_m) })),
    marks: judged.marks.map((m) => ({ ...m, web_m: from(m.web_m) })),
    trail: judged.trail.map((t) => ({ ...t, web_m: from(t.web_m) })),
    last_check: judged.last_check === null ? null : { ...judged.last_check, web_m: from(judged.last_check.web_m) },
    holds: holdFromZero(judged.holds, zero_m),
    roll: { ...judged.roll, off_m: maybe(judged.roll.off_m), stock_m: maybe(judged.roll.stock_m) },
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
