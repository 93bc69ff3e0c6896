import { AXES, type Axis, type PerAxis } from '../axis.js';
import type { Pair } from '../job.js';

/** One station's reading against its aim, mm; null = not measured. A station read at both edges comes twice. */
export type HoldReading = {
  readonly station: string;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
  /** Seen without a number; absent or null = not looked at. */
  readonly look?: 'in' | 'off' | null;
  /** The job has it looked at only, so a look is all that can be had of it. */
  readonly only_looked?: boolean;
};

/** What is inside and what is not. */
export type Limits = {
  readonly reference: string;
  readonly tolerance_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly pairs: readonly Pair[];
};

/** One thing outside tolerance on one check: a reading, a difference within a pair, or a look without a number (`mm` null). */
export type OutMark = {
  readonly station: string;
  readonly axis: Axis;
  readonly mm: number | null;
  readonly limit_mm: number | null;
  /** The other station of the pair that is apart; null = the station itself is out. */
  readonly with: string | null;
};

export type Mark = { readonly station: string; readonly axis: Axis; readonly good: boolean };

const SLACK_MM = 1e-9;

/**
 * Which stations had a good check on which axis: measured there, inside their own tolerance and their pairs'. A station that was
 * not measured is not in the list: it settles nothing. A pair of which only one was measured is as it was last seen, so a pair
 * known to be out is not good again until both were measured. `pairs_out` carries that from check to check.
 */
export const goodMarks = (
  limits: Limits,
  readings: readonly HoldReading[],
  pairs_out: readonly string[],
): {
  readonly marks: readonly Mark[];
  readonly pairs_out: readonly string[];
  readonly outs: readonly OutMark[];
} => {
  const read = { along: byStation(readings, 'along'), across: byStation(readings, 'across') };
  const still = AXES.flatMap((axis) =>
    limits.pairs.flatMap((pair) => {
      const key = pairKey(pair, axis);
      return (pairOut(limits, pair, axis, read[axis]) ?? pairs_out.includes(key)) ? [key] : [];
    }),
  );
  const marks = AXES.flatMap((axis) =>
    [...read[axis]].map(([station, values]): Mark => {
      const own = values.every((mm) => Math.abs(mm) <= limitOf(limits, station, axis) + SLACK_MM);
      const paired =
        still.length === 0 ||
        limits.pairs.every((pair) => !pair.stations.includes(station) || !still.includes(pairKey(pair, axis)));
      return { station, axis, good: own && paired };
    }),
  );
  const looked = readings.flatMap((r): Mark[] =>
    r.only_looked === true && r.look === 'in' ? AXES.map((axis) => ({ station: r.station, axis, good: true })) : [],
  );
  return {
    marks: [...marks, ...looked],
    pairs_out: still,
    outs: AXES.flatMap((axis) => [...ownOut(limits, axis, read[axis]), ...apartOut(limits, axis, read[axis])]),
  };
};

type Read = ReadonlyMap<string, readonly number[]>;

const limitOf = (limits: Limits, station: string, axis: Axis): number =>
  limits.tolerance_mm[station]?.[axis] ?? Number.POSITIVE_INFINITY;

/** Stations that read outside their own tolerance; read at both edges, the edge farther off is told. */
const ownOut = (limits: Limits, axis: Axis, read: Read): readonly OutMark[] =>
  [...read].flatMap(([station, values]): OutMark[] => {
    const limit_mm = limitOf(limits, station, axis);
    const mm = values.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    return Math.abs(mm) > limit_mm + SLACK_MM ? [{ station, axis, mm, limit_mm, with: null }] : [];
  });

/** Both stations of every pair that was read and is too far apart; the reference is held against nothing. */
const apartOut = (limits: Limits, axis: Axis, read: Read): readonly OutMark[] =>
  limits.pairs.flatMap((pair): OutMark[] => {
    const limit_mm = pair.tolerance_mm[axis];
    if (limit_mm === null || pairOut(limits, pair, axis, read) !== true) return [];
    const [a, b] = pair.stations;
    const of = (id: string): number => (id === limits.reference ? 0 : (read.get(id)?.[0] ?? 0));
    return [
      { station: a, axis, mm: of(a) - of(b), limit_mm, with: b },
      { station: b, axis, mm: of(b) - of(a), limit_mm, with: a },
    ].filter(({ station }) => station !== limits.reference);
  });

/** Whether the pair's difference is outside on this sample; null = not both measured, or no tolerance there. */
const pairOut = (limits: Limits, pair: Pair, axis: Axis, read: Read): boolean | null => {
  const tolerance = pair.tolerance_mm[axis];
  if (tolerance === null) return false;
  const [a, b] = pair.stations.map((id) => (id === limits.reference ? [0] : read.get(id)));
  if (a === undefined || b === undefined) return null;
  return a.some((x) => b.some((y) => Math.abs(x - y) > tolerance + SLACK_MM));
};

const pairKey = (pair: Pair, axis: Axis): string => `${pair.stations[0]}|${pair.stations[1]}|${axis}`;

/** What was measured on an axis, by station; a station that was not measured has no entry. */
const byStation = (readings: readonly HoldReading[], axis: Axis): Read => {
  const read = new Map<string, number[]>();
  for (const reading of readings) {
    const mm = axis === 'along' ? reading.along_mm : reading.across_mm;
    if (mm === null) continue;
    const values = read.get(reading.station);
    if (values === undefined) read.set(reading.station, [mm]);
    else values.push(mm);
  }
  return read;
};
