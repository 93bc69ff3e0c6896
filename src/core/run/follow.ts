import type { Movement as Watched } from '../drift/movement.js';
import type { Cause } from '../finding.js';
import { reachedBy } from './advise.js';
import { sameCause } from './announce.js';
import { ending, measuredAny } from './ending.js';
import { bestExplaining, carriedBy, explainsOut } from './explain.js';
import type { Followed } from './followed.js';
import { ACT_AT, regraded, worstOf } from './grade.js';
import { blank, fromReading, refreshed } from './open-movement.js';
import { type Out, outOn } from './outs.js';
import type { Movement } from './state.js';

/** One check further in the life of every movement on an axis: found, raised, lowered, led back, closed. */
export const follow = (
  now: Followed,
  movements: readonly Movement[],
  next_key: number,
): { readonly movements: readonly Movement[]; readonly next_key: number } => {
  let key = next_key;
  const open = movements.filter((m) => m.axis === now.axis && m.closed === null);
  const out = outOn(now);

  // 1. What the watch follows: known ones are brought up to date, new ones opened.
  const live = now.found.filter((w) => !w.settled);
  const settled = now.found.filter((w) => w.settled);
  const followed = new Map<number, Movement>();
  for (const m of open) followed.set(m.key, { ...m, checks: m.checks + 1, named: m.named + 1 });
  for (const w of live) {
    const id = w.key * 2 + now.watchBase;
    const known =
      [...followed.values()].find((m) => m.watched.includes(id)) ??
      [...followed.values()].find((m) => m.pair === null && sameCause(m.cause, w.cause));
    if (known !== undefined) followed.set(known.key, refreshed(known, id, live, now.watchBase));
    else if (
      !movements.some((m) => m.watched.includes(id) && m.closed !== null && m.axis === now.axis && !growsAgain(now, w))
    )
      followed.set(key, refreshed(blank(now, key++), id, live, now.watchBase));
  }

  // 2. Readings and pairs out of tolerance: they raise the movement that explains them, or open one of their own.
  const owner = new Map<Out, number>();
  for (const o of out) {
    const explains = bestExplaining(now, [...followed.values()], o);
    owner.set(o, explains?.key ?? key);
    if (explains === undefined) followed.set(key, fromReading(now, key++, o));
    else if (
      o.pair !== null &&
      explains.pair === null &&
      !out.some((x) => x.pair === null && explainsOut(now, explains, x))
    )
      followed.set(explains.key, { ...explains, pair: o.pair });
  }

  for (const m of wandering(now, movements, [...followed.values()], key)) {
    followed.set(m.key, m);
    key = m.key + 1;
  }

  // 3. Severity, and whether it is over.
  for (const [id, m] of followed) {
    const isOut = out.some((o) => owner.get(o) === id);
    const watched = live.some((w) => m.watched.includes(w.key * 2 + now.watchBase));
    const left = !watched && settled.some((w) => m.watched.includes(w.key * 2 + now.watchBase));
    followed.set(id, graded(now, m, { isOut, watched, left }));
  }

  const untouched = movements.filter((m) => !followed.has(m.key));
  return { movements: [...untouched, ...followed.values()].sort((a, b) => a.key - b.key), next_key: key };
};

/** A movement's severity at this check, what turning would do, and whether it is over. */
const graded = (
  now: Followed,
  m: Movement,
  seen: { readonly isOut: boolean; readonly watched: boolean; readonly left: boolean },
): Movement => {
  const { isOut } = seen;
  const outlook = worstOf(now, m);
  const carried = carriedBy(now, m);
  const restraint = now.restraint(m.cause, carried);
  const acts = outlook.p_out >= ACT_AT || restraint.act;
  const told: Movement = {
    ...regraded(m, isOut ? 'out' : acts ? 'act' : 'note', outlook.p_out),
    waiting: now.turns.some((t) => t.event === m.key && t.result === null),
    lost: carried.length === 0 && measuredAny(now, m) ? m.lost + 1 : 0,
    been_out: m.been_out || isOut,
    pattern: m.pattern ?? toothStep(now, m),
    helps: restraint.act || (isOut && m.pair !== null),
    past_mm: restraint.act ? pastAim(now, m, restraint.move_mm) : 0,
    out_before_next_check: outlook.p_out,
    reach_limit: outlook.reach,
  };
  const how = ending(now, told, isOut, seen.left, seen.watched);
  if (how === null) return told;
  const severity = m.checks === 0 && isOut ? told.severity : m.severity;
  return { ...told, severity, waiting: false, closed: { how, check: now.check, web_m: now.web_m, at: now.at } };
};

/** A single station that now reads off by about whole gear teeth along the web: a tooth may have jumped. */
const toothStep = (now: Followed, m: Movement): string | null => {
  if (m.axis !== 'along' || m.cause.kind !== 'station' || m.shape !== 'step') return null;
  const { station } = m.cause;
  const mm = now.measured.find((x) => x.station === station)?.mm.along ?? null;
  if (mm === null) return null;
  const teeth = Math.round(mm / now.tooth_mm);
  return teeth !== 0 && Math.abs(mm - teeth * now.tooth_mm) <= Math.min(TOOTH_WITHIN_MM, now.tooth_mm / 8)
    ? 'tooth step'
    : null;
};

/** How near to whole teeth a step must be: what a loupe and a knob leave over. */
const TOOTH_WITHIN_MM = 0.25;

/** Stations known to wander in this run need not wait for the watch to be sure since when: so far off that turning helps is enough. */
const wandering = (
  now: Followed,
  movements: readonly Movement[],
  followed: readonly Movement[],
  next_key: number,
): readonly Movement[] => {
  let key = next_key;
  return now.measured.flatMap(({ station, mm }): Movement[] => {
    const cause: Cause = { kind: 'station', station };
    const spoken = followed.some((m) => reachedBy(m.cause, now.stations, now.reference).includes(station));
    const wanders = movements.some(
      (m) => m.axis === now.axis && m.closed?.how === 'corrected' && sameCause(m.cause, cause),
    );
    if (spoken || !wanders || mm[now.axis] === null || !now.restraint(cause, [station]).act) return [];
    return [{ ...blank(now, key++), cause, confidence: 0.6, moved_mm: now.outlook(station).level_mm ?? 0 }];
  });
};

/** What restraint turns beyond bringing the one thing in; nothing where several are to be brought in. */
const pastAim = (now: Followed, m: Movement, move_mm: number): number => {
  if (m.cause.kind !== 'station') return 0;
  return move_mm + (now.outlook(m.cause.station).level_mm ?? -move_mm);
};

/** A movement that was closed speaks again only when it would have to be acted on. */
const growsAgain = (now: Followed, w: Watched): boolean => {
  const m = { ...blank(now, 0), cause: w.cause, moved_mm: w.moved_mm, since: w.since };
  return worstOf(now, m).p_out >= ACT_AT || now.restraint(m.cause, carriedBy(now, m)).act;
};
