import type { Restraint } from '../adjust/restraint.js';
import type { Axis } from '../axis.js';
import type { Movement as Watched } from '../drift/movement.js';
import type { Cause, ReachLimit, Severity } from '../finding.js';
import type { CheckId } from '../record.js';
import { reachedBy } from './advise.js';
import { sameCause } from './announce.js';
import type { Measured } from './measured.js';
import type { PairRead } from './pairs.js';
import type { Movement, Turned } from './state.js';
import type { Station } from './stations.js';

/** What is foreseen for one station on the axis. */
export type Outlook = { readonly p_out: number; readonly reach: ReachLimit | null; readonly level_mm: number | null };

/** One check, one axis, as the life of movements sees it. */
export type Followed = {
  readonly axis: Axis;
  readonly check: CheckId;
  readonly web_m: number;
  readonly at: string;
  readonly stations: readonly Station[];
  readonly reference: string;
  readonly found: readonly Watched[];
  readonly measured: readonly Measured[];
  readonly toleranceOf: (station: string) => number;
  readonly pairs: readonly PairRead[];
  readonly outlook: (station: string) => Outlook;
  /** Whether turning now is expected to help, and how far past the aim. */
  readonly restraint: (cause: Cause, carried: readonly string[]) => Restraint;
  readonly turns: readonly Turned[];
  /** Keyed and sensor watches number their movements apart. */
  readonly watchBase: 0 | 1;
};

const ACT_AT = 0.5;
const CALM_BELOW = 0.25;
const CALM_CHECKS = 2;
/** Successive checks at which nothing of it is to be seen any more, before it is over. */
const LOST_CHECKS = 3;
const EDGE_MM = 1e-9;

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

  // A station known to wander in this run need not wait for the watch to be sure since when: so far off that turning helps is enough.
  for (const { station, mm } of now.measured) {
    const spoken = [...followed.values()].some((m) =>
      reachedBy(m.cause, now.stations, now.reference).includes(station),
    );
    const cause: Cause = { kind: 'station', station };
    const wanders = movements.some(
      (m) =>
        m.axis === now.axis &&
        m.closed?.how === 'corrected' &&
        m.cause.kind === 'station' &&
        m.cause.station === station,
    );
    if (spoken || !wanders || mm[now.axis] === null || !now.restraint(cause, [station]).act) continue;
    const level = now.outlook(station).level_mm ?? 0;
    followed.set(key, { ...blank(now, key), cause, confidence: 0.6, moved_mm: level });
    key += 1;
  }

  // 3. Severity, and whether it is over.
  for (const [id, m] of followed) {
    const isOut = out.some((o) => owner.get(o) === id);
    const outlook = worstOf(now, m);
    const watched = live.some((w) => m.watched.includes(w.key * 2 + now.watchBase));
    const restraint = now.restraint(m.cause, carriedBy(now, m));
    const acts = isOut || outlook.p_out >= ACT_AT || restraint.act;
    const graded = regraded(m, isOut ? 'out' : acts ? 'act' : 'note', outlook.p_out);
    const lost = carriedBy(now, m).length === 0 && measuredAny(now, m) ? m.lost + 1 : 0;
    const waiting = now.turns.some((t) => t.event === m.key && t.result === null);
    const told = {
      ...graded,
      waiting,
      lost,
      been_out: graded.been_out || isOut,
      helps: restraint.act || (isOut && m.pair !== null),
      past_mm: restraint.act ? pastAim(now, m, restraint.move_mm) : 0,
      out_before_next_check: outlook.p_out,
      reach_limit: outlook.reach,
    };
    const how = ending(
      now,
      told,
      isOut,
      !watched && settled.some((w) => m.watched.includes(w.key * 2 + now.watchBase)),
      watched,
    );
    followed.set(
      id,
      how === null
        ? told
        : {
            ...told,
            severity: m.checks === 0 && isOut ? told.severity : m.severity,
            waiting: false,
            closed: { how, check: now.check, web_m: now.web_m, at: now.at },
          },
    );
  }

  const untouched = movements.filter((m) => !followed.has(m.key));
  return { movements: [...untouched, ...followed.values()].sort((a, b) => a.key - b.key), next_key: key };
};

/** What restraint turns beyond bringing the one thing in; nothing where several are to be brought in. */
const pastAim = (now: Followed, m: Movement, move_mm: number): number => {
  if (m.cause.kind !== 'station') return 0;
  return move_mm + (now.outlook(m.cause.station).level_mm ?? -move_mm);
};

type Out = {
  readonly station: string;
  readonly pair: readonly [string, string] | null;
  readonly mm: number;
  readonly looked: boolean;
};

/** Stations measured out, looked at and off, then pairs further apart than they may be. */
const outOn = (now: Followed): readonly Out[] => [
  ...now.measured.flatMap((m): Out[] => {
    const mm = m.mm[now.axis];
    if (mm !== null && Math.abs(mm) > now.toleranceOf(m.station) + EDGE_MM)
      return [{ station: m.station, pair: null, mm, looked: false }];
    const onlyLooked = m.mm.along === null && m.mm.across === null && m.look === 'off' && now.axis === 'along';
    return onlyLooked ? [{ station: m.station, pair: null, mm: 0, looked: true }] : [];
  }),
  ...now.pairs.flatMap((p): Out[] =>
    p.out ? [{ station: farther(now, p), pair: p.stations, mm: p.apart_mm, looked: false }] : [],
  ),
];

/** Of a pair apart, the one that reads farther off its aim. */
const farther = (now: Followed, pair: PairRead): string => {
  const off = (id: string): number => Math.abs(now.measured.find((m) => m.station === id)?.mm[now.axis] ?? 0);
  return off(pair.stations[1]) >= off(pair.stations[0]) ? pair.stations[1] : pair.stations[0];
};

/** Of the movements that can explain a reading out, the one that moves the station most. */
const bestExplaining = (now: Followed, open: readonly Movement[], o: Out): Movement | undefined =>
  open
    .filter((m) => explainsOut(now, m, o))
    .reduce<Movement | undefined>(
      (a, b) =>
        a === undefined || Math.abs(shiftAt(now, b, o.station)) > Math.abs(shiftAt(now, a, o.station)) ? b : a,
      undefined,
    );

/** What a movement adds to a station's reading, mm; for several at once each is taken to be as large as the movement. */
const shiftAt = (now: Followed, m: Movement, station: string): number => {
  if (!reachedBy(m.cause, now.stations, now.reference).includes(station)) return 0;
  if (m.cause.kind === 'web') return m.moved_mm * pathOf(now, station);
  if (m.cause.kind === 'several') return m.moved_mm;
  const left_mm =
    m.moved_mm + turnedSince(now, m.cause.kind === 'reference' ? now.reference : m.cause.station, m.since.web_m);
  return m.cause.kind === 'reference' ? -left_mm : left_mm;
};

/** What was turned on a station since a movement began and has been seen since, mm. */
const turnedSince = (now: Followed, station: string, web_m: number): number =>
  now.turns.reduce(
    (sum, t) =>
      t.station === station && t.axis === now.axis && t.web_m >= web_m && t.result !== null ? sum + t.move_mm : sum,
    0,
  );

/** Stations that are off as this movement would have them: the same way, and neither much more nor much less than it moves them. */
const carriedBy = (now: Followed, m: Movement): readonly string[] =>
  reachedBy(m.cause, now.stations, now.reference).filter((id) => {
    const level = now.outlook(id).level_mm;
    const shift = shiftAt(now, m, id);
    if (level === null) return false;
    if (m.cause.kind === 'several') return true;
    return (
      Math.abs(shift) >= Math.abs(level) / 2 &&
      Math.abs(level) >= Math.abs(shift) / 4 &&
      Math.sign(shift) === Math.sign(level)
    );
  });

const explainsOut = (now: Followed, m: Movement, o: Out): boolean => {
  const reached = reachedBy(m.cause, now.stations, now.reference);
  if (o.pair !== null) return m.pair?.join() === o.pair.join() || o.pair.some((id) => reached.includes(id));
  if (!reached.includes(o.station)) return false;
  if (o.looked || m.cause.kind === 'several' || m.pair !== null || m.waiting) return true;
  const side =
    m.cause.kind === 'station'
      ? m.moved_mm
      : m.cause.kind === 'reference'
        ? -m.moved_mm
        : m.moved_mm * pathOf(now, o.station);
  return side === 0 || Math.sign(side) === Math.sign(o.mm);
};

const pathOf = (now: Followed, station: string): number =>
  (now.stations.find((s) => s.id === station)?.at_m ?? 0) -
  (now.stations.find((s) => s.id === now.reference)?.at_m ?? 0);

/**
 * What the watch says of it now; several movements of one cause that the watch keeps apart are one to the operator. While a correction is
 * waited for the cause stands as it was acted on: half a move looks like many things.
 */
const refreshed = (m: Movement, id: number, live: readonly Watched[], watchBase: 0 | 1): Movement => {
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

const fromReading = (now: Followed, key: number, o: Out): Movement => ({
  ...blank(now, key),
  cause: { kind: 'station', station: o.station },
  severity: 'out',
  confidence: o.pair === null ? 0.5 : 0.4,
  moved_mm: o.pair === null ? o.mm : (now.measured.find((m) => m.station === o.station)?.mm[now.axis] ?? o.mm),
  pair: o.pair,
});

const blank = (now: Followed, key: number): Movement => ({
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
  past_mm: 0,
  advice: null,
  closed: null,
  suspect: null,
  seen: false,
});

/** A movement that was closed speaks again only when it would have to be acted on. */
const growsAgain = (now: Followed, w: Watched): boolean => {
  const m = { ...blank(now, 0), cause: w.cause, moved_mm: w.moved_mm, since: w.since };
  return worstOf(now, m).p_out >= ACT_AT || now.restraint(m.cause, carriedBy(now, m)).act;
};

/** The outlook of the worst station that it carries; of the worst it reaches, when others carry them all. */
const worstOf = (now: Followed, m: Movement): Outlook => {
  const carried = carriedBy(now, m);
  const stations = carried.length > 0 ? carried : reachedBy(m.cause, now.stations, now.reference);
  return stations
    .map((s) => now.outlook(s))
    .reduce((a, b) => (b.p_out > a.p_out || (b.p_out === a.p_out && soonest(b) < soonest(a)) ? b : a), NOTHING_SEEN);
};

const NOTHING_SEEN: Outlook = { p_out: 0, reach: null, level_mm: null };

const soonest = (o: Outlook): number => o.reach?.likely_m ?? Infinity;

const RANK: Readonly<Record<Severity, number>> = { note: 0, act: 1, out: 2 };

/** Raised at once, lowered only after two calm checks: no chattering. */
const regraded = (m: Movement, to: Severity, p_out: number): Movement => {
  if (RANK[to] >= RANK[m.severity]) return { ...m, severity: to, calm: 0 };
  const calm = p_out < CALM_BELOW || m.severity === 'out' ? m.calm + 1 : 0;
  return calm >= CALM_CHECKS ? { ...m, severity: to, calm: 0 } : { ...m, calm };
};

/** Whether any station that it reaches was measured at this check. */
const measuredAny = (now: Followed, m: Movement): boolean =>
  reachedBy(m.cause, now.stations, now.reference).some(
    (id) => (now.measured.find((x) => x.station === id)?.mm[now.axis] ?? null) !== null,
  );

/** Whether the movement is over at this check, and how. */
const ending = (
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
