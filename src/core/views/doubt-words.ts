import type { Axis } from '../axis.js';
import { scatter } from '../drift/scatter-now.js';
import { outlookOf } from '../run/outlook.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { watchConfig } from '../run/watch-config.js';
import { signedNumber } from './number-words.js';

/** A reading this many sigmas from what is expected is asked about once. */
const FAR = 4;

/** The words to ask with when a keyed reading (mm, as read) lies far from what is expected; null = nothing strange about it. */
export const doubtOf = (state: RunState, station: string, axis: Axis, mm: number): string | null => {
  const { judged } = state;
  const known = stationsOf(state.press, state.job).find((s) => s.id === station);
  if (known === undefined || station === judged.reference) return null;
  const off = mm - (judged.aim_mm[station]?.[axis] ?? 0);
  const tolerance = toleranceIn(judged, station, axis);
  const { latest } = judged.watch;
  const watch = judged.watch[latest];
  const expected =
    judged.ok === null
      ? null
      : outlookOf(state.press, state.job, judged, axis, station, judged.last_check?.web_m ?? null).level_mm;
  const sigma =
    watch === null
      ? state.job.reading.spread_mm[axis]
      : scatter(watchConfig(state.press, state.job, judged, latest), watch)[axis].sigma_mm;
  const far =
    judged.ok === null
      ? Math.abs(off) > MAKE_READY_MM
      : Math.abs(off - (expected ?? 0)) > Math.max(FAR * sigma, Math.min(tolerance, 8 * sigma));
  if (!far) return null;
  const unit = state.job.units.register;
  return judged.ok === null
    ? `${labelOf(known)} ${axis} ${signedNumber(mm, unit)} ${unit}: is the point in the right place? Read it again.`
    : `${labelOf(known)} ${axis} ${signedNumber(mm, unit)} ${unit}; about ${signedNumber(expected ?? 0, unit)} was expected. Read it again.`;
};

/** In make-ready anything is possible; a slip of the decimal point is still asked about. */
const MAKE_READY_MM = 5;
