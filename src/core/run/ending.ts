import type { Followed } from './followed.js';
import { CALM_BELOW } from './grade.js';
import { reachedBy } from './reached-by.js';
import type { Movement } from './state.js';

/** Successive checks at which nothing of it is to be seen any more, before it is over. */
const LOST_CHECKS = 3;

/** Whether any station that it reaches was measured at this check. */
export const measuredAny = (now: Followed, m: Movement): boolean =>
  reachedBy(m.cause, now.stations, now.reference).some(
    (id) => (now.measured.find((x) => x.station === id)?.mm[now.axis] ?? null) !== null,
  );

/** Whether the movement is over at this check, and how. */
export const ending = (
  now: Followed,
  m: Movement,
  isOut: boolean,
  settled: boolean,
  stillWatched: boolean,
): 'corrected' | 'recovered' | null => {
  if (isOut) return null;
  const made = now.turns.filter((t) => t.event === m.key);
  const took = made.some((t) => t.result?.took === true);
  if (made.some((t) => t.result === null)) return null;
  const good = measuredAny(now, m);
  if (settled) return took ? 'corrected' : 'recovered';
  // Brought back, and turning more would not help: it is over, whatever the watch still makes of what went before.
  if (took && good && !m.helps && m.out_before_next_check < CALM_BELOW) return 'corrected';
  if (m.lost >= LOST_CHECKS) return took ? 'corrected' : 'recovered';
  if (stillWatched) return null;
  // Opened by a reading out, or no longer followed by the watch: the next check that measures it good ends it.
  return m.checks > 0 && good ? (took ? 'corrected' : 'recovered') : null;
};
