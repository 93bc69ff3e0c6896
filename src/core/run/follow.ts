import { teethNear } from '../adjust/whole-teeth.js';
import type { Movement as Watched } from '../drift/movement.js';
import { sameCause } from './announce.js';
import { ending, measuredAny } from './ending.js';
import { bestExplaining, carriedBy, explainsOut } from './explain.js';
import type { Followed } from './followed.js';
import { ACT_AT, regraded, worstOf } from './grade.js';
import { blank, fromReading, refreshed } from './open-movement.js';
import { type Out, outOn } from './outs.js';
import { ownerOf } from './owner.js';
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

  // 3. What is to be turned and no movement answers for is one of its own.
  for (const station of now.turning) {
    if (ownerOf([...followed.values()], station, now.stations, now.reference, now.meets) !== undefined) continue;
    followed.set(key, { ...blank(now, key), ...ofStation(now, station), severity: 'act', confidence: 0.6 });
    key += 1;
  }

  // 4. Severity, and whether it is over.
  const owned = new Set(
    now.turning.flatMap((s) => ownerOf([...followed.values()], s, now.stations, now.reference, now.meets)?.key ?? []),
  );
  for (const [id, m] of followed) {
    const isOut = out.some((o) => owner.get(o) === id);
    const watched = live.some((w) => m.watched.includes(w.key * 2 + now.watchBase));
    const left = !watched && settled.some((w) => m.watched.includes(w.key * 2 + now.watchBase));
    followed.set(id, graded(now, m, { isOut, watched, left, turns: owned.has(id) }));
  }

  const untouched = movements.filter((m) => !followed.has(m.key));
  return { movements: [...untouched, ...followed.values()].sort((a, b) => a.key - b.key), next_key: key };
};

/** A movement's severity at this check, what turning would do, and whether it is over. */
const graded = (
  now: Followed,
  m: Movement,
  seen: { readonly isOut: boolean; readonly watched: boolean; readonly left: boolean; readonly turns: boolean },
): Movement => {
  const { isOut } = seen;
  const outlook = worstOf(now, m);
  const carried = carriedBy(now, m);
  const acts = outlook.p_out >= ACT_AT || seen.turns;
  const told: Movement = {
    ...regraded(m, isOut ? 'out' : acts ? 'act' : 'note', outlook.p_out, measuredAny(now, m)),
    waiting: now.turns.some((t) => t.event === m.key && t.result === null),
    lost: carried.length === 0 && measuredAny(now, m) ? m.lost + 1 : 0,
    been_out: m.been_out || isOut,
    pattern: m.pattern ?? toothStep(now, m),
    helps: seen.turns,
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
  return teethNear(mm, now.tooth_mm, Math.min(TOOTH_WITHIN_MM, now.tooth_mm / 8)) === 0 ? null : 'tooth step';
};

/** How near to whole teeth a step must be: what a loupe and a knob leave over. */
const TOOTH_WITHIN_MM = 0.25;

/** A movement of one station, or of the reference, by where it stands. */
const ofStation = (now: Followed, station: string): Pick<Movement, 'cause' | 'moved_mm'> =>
  station === now.reference
    ? { cause: { kind: 'reference' }, moved_mm: 0 }
    : { cause: { kind: 'station', station }, moved_mm: now.outlook(station).level_mm ?? 0 };

/** A movement that was closed speaks again only when it would have to be acted on. */
const growsAgain = (now: Followed, w: Watched): boolean => {
  const m = { ...blank(now, 0), cause: w.cause, moved_mm: w.moved_mm, since: w.since };
  return worstOf(now, m).p_out >= ACT_AT || now.turning.some((s) => carriedBy(now, m).includes(s));
};
