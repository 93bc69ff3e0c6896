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
  const still = AXES.flatMap((axis) =>
    limits.pairs.flatMap((pair) => {
      const key = pairKey(pair, axis);
      return (pairOut(limits, pair, axis, readings) ?? pairs_out.includes(key)) ? [key] : [];
    }),
  );
  const marks = AXES.flatMap((axis) =>
    stationsRead(readings, axis).map((station): Mark => {
      const tolerance = limits.tolerance_mm[station]?.[axis] ?? Number.POSITIVE_INFINITY;
      const own = values(readings, station, axis).every((mm) => Math.abs(mm) <= tolerance + SLACK_MM);
      const paired = limits.pairs.every(
        (pair) => !pair.stations.includes(station) || !still.includes(pairKey(pair, axis)),
      );
      return { station, axis, good: own && paired };
    }),
  );
  return { marks, pairs_out: still };
};

/** Whether the pair's difference is outside on this sample; null = not both measured, or no tolerance there. */
export const pairOut = (limits: Limits, pair: Pair, axis: Axis, readings: readonly HoldReading[]): boolean | null => {
  const tolerance = pair.tolerance_mm[axis];
  if (tolerance === null) return false;
  const [a, b] = pair.stations.map((id) => (id === limits.reference ? [0] : values(readings, id, axis)));
  if (a === undefined || b === undefined || a.length === 0 || b.length === 0) return null;
  return a.some((x) => b.some((y) => Math.abs(x - y) > tolerance + SLACK_MM));
};

const pairKey = (pair: Pair, axis: Axis): string => `${pair.stations[0]}|${pair.stations[1]}|${axis}`;

const readOn = (reading: HoldReading, axis: Axis): number | null =>
  axis === 'along' ? reading.along_mm : reading.across_mm;

const values = (readings: readonly HoldReading[], station: string, axis: Axis): readonly number[] =>
  readings.flatMap((reading) => {
    const mm = reading.station === station ? readOn(reading, axis) : null;
    return mm === null ? [] : [mm];
  });

const stationsRead = (readings: readonly HoldReading[], axis: Axis): readonly string[] => [
  ...new Set(readings.filter((reading) => readOn(reading, axis) !== null).map((reading) => reading.station)),
];
