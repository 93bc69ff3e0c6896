import type { Axis } from '../axis.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { leastSquares } from '../spc/least-squares.js';

const LEAST = 5;
const MOST = 20;

/**
 * How far a station's register creeps in one finished roll, mm, + ahead / + operator side. Straight line by least squares through its
 * readings since the last turn of it or of the reference, the last 20 at most, times the usual length of a roll. null = fewer than five
 * readings, no length of roll known, or a slope within twice its own standard error.
 * Example: 0.01 mm more at each of five checks 1 000 m apart, rolls of 2 000 m: 0.02 mm a roll.
 */
export const creepOf = ({ press, job, judged }: RunState, station: string, axis: Axis): number | null => {
  const roll_m = judged.roll.usual_m ?? job.finished_roll_m;
  if (roll_m === null || judged.ok === null || station === judged.reference) return null;
  const index = stationsOf(press, job).findIndex((s) => s.id === station);
  const turned_m = judged.turns.findLast(
    (t) => t.axis === axis && (t.station === station || t.station === judged.reference),
  )?.web_m;
  const from_m = Math.max(judged.ok.web_m, turned_m === undefined ? -Infinity : turned_m + press.sample_m);
  const read = judged.trail
    .filter((t) => t.web_m >= from_m)
    .flatMap((t) => {
      const mm = t[axis][index] ?? null;
      return mm === null ? [] : [{ x: t.web_m, y: mm }];
    })
    .slice(-MOST);
  if (read.length < LEAST) return null;
  const line = leastSquares(
    read.map((p) => p.x),
    read.map((p) => p.y),
  );
  if (!line.ok) return null;
  const { slope, slopeSe } = line.value;
  return Math.abs(slope) <= 2 * slopeSe || Math.abs(slope * roll_m) < job.reading.resolution_mm / 10
    ? null
    : slope * roll_m;
};
