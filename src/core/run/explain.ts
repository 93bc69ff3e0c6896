import type { Followed } from './followed.js';
import type { Out } from './outs.js';
import { reachedBy } from './reached-by.js';
import type { Movement } from './state.js';

/** Of the movements that can explain a reading out, the one that moves the station most. */
export const bestExplaining = (now: Followed, open: readonly Movement[], o: Out): Movement | undefined =>
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
export const carriedBy = (now: Followed, m: Movement): readonly string[] =>
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

/** Whether a movement can be why something is outside tolerance: it reaches it, and moves it that way. */
export const explainsOut = (now: Followed, m: Movement, o: Out): boolean => {
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
