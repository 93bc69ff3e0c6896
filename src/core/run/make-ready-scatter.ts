import { type Apart, scatterScale } from '../adjust/scatter-scale.js';
import { AXES, type Axis, type PerAxis } from '../axis.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import { showsTurn } from './shows-turn.js';
import type { Judged } from './state.js';
import type { Station } from './stations.js';

/**
 * Variance of one reading in this make-ready, mm²: the job's value, scaled by how far readings of one setting lie apart (second labels, and samples with
 * nothing turned between that acts on them). One scale for both axes and all stations, as readings are few.
 */
export const makeReadyScatter = (
  press: Press,
  job: Job,
  judged: Judged,
  stations: readonly Station[],
): PerAxis<number> => {
  const { spread_mm, resolution_mm } = job.reading;
  const apart = AXES.flatMap((axis) =>
    stations.flatMap((s, i) =>
      s.id === judged.reference ? [] : differences(settingsOf(press, judged, stations, s, i, axis), spread_mm[axis]),
    ),
  );
  const scale = scatterScale(apart, resolution_mm);
  const variance = (axis: Axis): number => scale * spread_mm[axis] ** 2 + resolution_mm ** 2 / 12;
  return { along: variance('along'), across: variance('across') };
};

/** A station's readings, those of one setting together: what acts on them is its own turns, the reference's, and on helical gears a side move. */
const settingsOf = (
  press: Press,
  judged: Judged,
  stations: readonly Station[],
  station: Station,
  index: number,
  axis: Axis,
): readonly (readonly number[])[] => {
  const turns = judged.turns.filter(
    (t) =>
      (t.station === station.id || t.station === judged.reference) &&
      (t.axis === axis || (axis === 'along' && press.helix_deg !== 0)),
  );
  const settings = new Map<number, number[]>();
  for (const entry of judged.trail) {
    const mm = entry[axis][index] ?? null;
    if (mm === null || entry.web_m <= (judged.new_marks_m?.[station.id] ?? Number.NEGATIVE_INFINITY)) continue;
    const shown = turns.filter((t) => showsTurn(press, stations, t, entry)).length;
    settings.set(shown, [...(settings.get(shown) ?? []), mm]);
  }
  return [...settings.values()];
};

/** Each reading but the first against the mean of those before it, scaled to the variance of one (Helmert's contrasts, independent of one another). */
const differences = (settings: readonly (readonly number[])[], believed_mm: number): readonly Apart[] =>
  settings.flatMap((readings) => {
    let sum = 0;
    return readings.flatMap((mm, n): Apart[] => {
      const mean = sum / n;
      sum += mm;
      return n === 0 ? [] : [{ mm: (mm - mean) / Math.sqrt(1 + 1 / n), believed_mm }];
    });
  });
