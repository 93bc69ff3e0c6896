import type { Severity } from '../finding.js';
import { carriedBy } from './explain.js';
import type { Followed, Outlook } from './followed.js';
import { reachedBy } from './reached-by.js';
import type { Movement } from './state.js';

/** Chance of being out before the next check from which on it is to be acted on; and below which a check counts as calm. */
export const ACT_AT = 0.5;
export const CALM_BELOW = 0.25;
const CALM_CHECKS = 2;

/** The outlook of the worst station that it carries; of the worst it reaches, when others carry them all. */
export const worstOf = (now: Followed, m: Movement): Outlook => {
  const carried = carriedBy(now, m);
  const stations = carried.length > 0 ? carried : reachedBy(m.cause, now.stations, now.reference);
  return stations
    .map((s) => now.outlook(s))
    .reduce((a, b) => (b.p_out > a.p_out || (b.p_out === a.p_out && soonest(b) < soonest(a)) ? b : a), NOTHING_SEEN);
};

const NOTHING_SEEN: Outlook = { p_out: 0, reach: null, level_mm: null };

const soonest = (o: Outlook): number => o.reach?.likely_m ?? Infinity;

const RANK: Readonly<Record<Severity, number>> = { note: 0, act: 1, out: 2 };

/** Raised at once; what is measured inside is not out, and that check may be the first calm one; lowered to a note only after two: no chattering. */
export const regraded = (m: Movement, to: Severity, p_out: number, measured: boolean): Movement => {
  if (RANK[to] >= RANK[m.severity]) return { ...m, severity: to, calm: 0 };
  const calm = p_out < CALM_BELOW ? m.calm + 1 : 0;
  if (m.severity === 'out' && measured) return { ...m, severity: 'act', calm: to === 'act' ? 0 : calm };
  return calm >= CALM_CHECKS ? { ...m, severity: to, calm: 0 } : { ...m, calm };
};
