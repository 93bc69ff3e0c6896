import type { Movement as Watched } from '../drift/movement.js';
import { sameCause } from './announce.js';
import type { Followed } from './followed.js';
import type { Out } from './outs.js';
import type { Movement } from './state.js';

/**
 * What the watch says of it now; several movements of one cause that the watch keeps apart are one to the operator. While a correction is
 * waited for the cause stands as it was acted on: half a move looks like many things.
 */
export const refreshed = (m: Movement, id: number, live: readonly Watched[], watchBase: 0 | 1): Movement => {
  const watched = m.watched.includes(id) ? m.watched : [...m.watched, id];
  const parts = live.filter((w) => watched.includes(w.key * 2 + watchBase));
  const last = parts.at(-1);
  const first = parts[0];
  if (last === undefined || first === undefined) return { ...m, watched };
  const alike = parts.filter((w) => sameCause(w.cause, last.cause));
  return {
    ...m,
    watched,
    cause: m.waiting ? m.cause : last.cause,
    named: m.waiting || sameCause(m.cause, last.cause) ? m.named : 0,
    confidence: last.confidence,
    since: first.since,
    moved_mm: alike.reduce((sum, w) => sum + w.moved_mm, 0),
    shape: last.shape,
    pattern: last.pattern ?? null,
  };
};

/** A movement opened by something outside tolerance that no other explains. */
export const fromReading = (now: Followed, key: number, o: Out): Movement => ({
  ...blank(now, key),
  cause: { kind: 'station', station: o.station },
  severity: 'out',
  confidence: o.pair === null ? 0.5 : 0.4,
  moved_mm: o.pair === null ? o.mm : (now.measured.find((m) => m.station === o.station)?.mm[now.axis] ?? o.mm),
  pair: o.pair,
  from_reading: true,
});

/** Nothing known yet but where it was found. */
export const blank = (now: Followed, key: number): Movement => ({
  key,
  axis: now.axis,
  cause: { kind: 'reference' },
  severity: 'note',
  shape: 'step',
  confidence: 0,
  since: { check: now.check, web_m: now.web_m },
  moved_mm: 0,
  pair: null,
  out_before_next_check: 0,
  reach_limit: null,
  pattern: null,
  watched: [],
  opened: { check: now.check, web_m: now.web_m, at: now.at },
  checks: 0,
  named: 0,
  lost: 0,
  calm: 0,
  waiting: false,
  been_out: false,
  helps: false,
  advice: null,
  closed: null,
  suspect: null,
  seen: false,
});
