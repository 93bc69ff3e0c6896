import type { Axis } from '../axis.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';

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
  const n = read.length;
  if (n < LEAST) return null;
  const mx = read.reduce((sum, p) => sum + p.x, 0) / n;
  const my = read.reduce((sum, p) => sum + p.y, 0) / n;
  const sxx = read.reduce((sum, p) => sum + (p.x - mx) ** 2, 0);
  if (sxx <= 0) return null;
  const slope = read.reduce((sum, p) => sum + (p.x - mx) * (p.y - my), 0) / sxx;
  const rest = read.reduce((sum, p) => sum + (p.y - my - slope * (p.x - mx)) ** 2, 0);
  const error = Math.sqrt(rest / (n - 2) / sxx);
  return Math.abs(slope) <= 2 * error || Math.abs(slope * roll_m) < job.reading.resolution_mm / 10
    ? null
    : slope * roll_m;
};
