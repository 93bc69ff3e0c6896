import { AXES, type Axis, type PerAxis } from '../axis.js';
import type { Pair } from '../job.js';

/** One station's reading against its aim, mm; null = not measured. A station read at both edges comes twice. */
export type HoldReading = {
  readonly station: string;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
};

/** What is inside and what is not. */
export type Limits = {
  readonly reference: string;
  readonly tolerance_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly pairs: readonly Pair[];
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
): { readonly marks: readonly Mark[]; readonly pairs_out: readonly string[] } => {
  const read = { along: byStation(readings, 'along'), across: byStation(readings, 'across') };
  const still = AXES.flatMap((axis) =>
    limits.pairs.flatMap((pair) => {
      const key = pairKey(pair, axis);
      return (pairOut(limits, pair, axis, read[axis]) ?? pairs_out.includes(key)) ? [key] : [];
    }),
  );
  const marks = AXES.flatMap((axis) =>
    [...read[axis]].map(([station, values]): Mark => {
      const tolerance = limits.tolerance_mm[station]?.[axis] ?? Number.POSITIVE_INFINITY;
      const own = values.every((mm) => Math.abs(mm) <= tolerance + SLACK_MM);
      const paired =
        still.length === 0 ||
        limits.pairs.every((pair) => !pair.stations.includes(station) || !still.includes(pairKey(pair, axis)));
      return { station, axis, good: own && paired };
    }),
  );
  return { marks, pairs_out: still };
};

type Read = ReadonlyMap<string, readonly number[]>;

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
