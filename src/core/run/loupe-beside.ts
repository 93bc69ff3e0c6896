import { AXES, type PerAxis } from '../axis.js';
import { type Job, repeatMm, SENSOR_CHECKS } from '../job.js';
import type { Press } from '../press.js';
import { checkBeside, type Differences } from '../sensor-bias.js';
import { samplePlace } from '../web.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged } from './state.js';
import { addReading, NO_SUMS } from './sums.js';
import { turnedAt } from './turned.js';

/** A sensor check this near on the web was printed alike, m. Common practice, no source. */
const BESIDE_M = 60;

/**
 * Sets a keyed check beside the sensor check of the same stretch of web, and adds their differences, station by station (mm, keyed less
 * sensor). A knob turned between the two would pass for a difference, so what the two samples carry of it must agree. A sensor check adds
 * nothing.
 */
export const addBeside = (seen: SeenCheck): Judged['loupe'] => {
  const { before, check, press, job, place_m, stations, measured } = seen;
  if (check.source === 'sensor' || before.checks.sensor === 0) return before.loupe;
  const sensor_m = samplePlace(press, 'sensor', null) ?? press.sample_m;
  const beside = checkBeside(before.trail, check.web_m - (place_m - sensor_m), withinM(press, job, before));
  if (beside === null) return before.loupe;
  const sums: Record<string, PerAxis<Differences>> = { ...before.loupe };
  for (const axis of AXES) {
    const turned = turnedAt(before, stations, axis, beside.web_m, sensor_m);
    measured.forEach((m, i) => {
      const keyed = m.mm[axis];
      const sensed = beside[axis][i] ?? null;
      if (keyed === null || sensed === null || seen.turned[axis][i] !== turned[i] || m.station === before.reference)
        return;
      const was = sums[m.station] ?? { along: NO_SUMS, across: NO_SUMS };
      sums[m.station] = { ...was, [axis]: addDifference(was[axis], keyed - sensed) };
    });
  }
  return sums;
};

const addDifference = (was: Differences, mm: number): Differences => {
  const { n, mean, m2 } = addReading({ ...NO_SUMS, ...was }, mm);
  return { n, mean, m2 };
};

/** Long sensor checks end far apart: half of one is still beside it. */
const withinM = (press: Press, job: Job, { web }: Judged): number => {
  const { by, size } = job.sensor_checks ?? SENSOR_CHECKS;
  const long_m =
    by === 'metres'
      ? size
      : by === 'repeats'
        ? (size * repeatMm(press, job)) / 1000
        : (size * (web.speed_m_per_min ?? 0)) / 60;
  return Math.max(BESIDE_M, long_m);
};
