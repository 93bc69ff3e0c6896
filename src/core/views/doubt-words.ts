import type { Axis } from '../axis.js';
import { scatter } from '../drift/scatter-now.js';
import type { CheckId } from '../record.js';
import { outlookOf } from '../run/outlook.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { turnedAt } from '../run/turned.js';
import { watchConfig } from '../run/watch-config.js';
import { samplePlace } from '../web.js';
import { registerUnitName, signedNumber } from './number-words.js';

/** A reading this many sigmas from what is expected is asked about once. */
const FAR = 4;

/** The words to ask with when a keyed reading (mm, as read) lies far from what is expected; null = nothing strange about it. */
export const doubtOf = (
  state: RunState,
  station: string,
  axis: Axis,
  mm: number,
  /** The sample it was read off, one that waits or one that another label of was read; absent = one pulled where the web is now, or the one that waits. */
  check?: CheckId,
): string | null => {
  const { judged } = state;
  const known = stationsOf(state.press, state.job).find((s) => s.id === station);
  if (known === undefined || station === judged.reference) return null;
  const aim = judged.aim_mm[station]?.[axis] ?? 0;
  const off = mm - aim;
  const tolerance = toleranceIn(judged, station, axis);
  const level =
    judged.ok === null
      ? null
      : outlookOf(state.press, state.job, judged, axis, station, judged.last_check?.web_m ?? null).level_mm;
  const expected = (level ?? 0) + turnedSince(state, station, axis, check);
  // What the loupe reads scatters as the loupe does, whatever a sensor beside it does.
  const { keyed } = judged.watch;
  const sigma =
    keyed === null
      ? state.job.reading.spread_mm[axis]
      : scatter(watchConfig(state.press, state.job, judged, 'keyed'), keyed)[axis].sigma_mm;
  // A slip of the hand does not come twice: what agrees with the reading before it was read, however odd. Nor is a good reading asked about.
  const before = judged.read[station]?.[axis].mm ?? 0;
  if (Math.abs(off - before) <= FAR * sigma || Math.abs(off) <= FAR * sigma) return null;
  const far =
    judged.ok === null
      ? Math.abs(off) > MAKE_READY_MM
      : Math.abs(off - expected) > Math.max(FAR * sigma, Math.min(tolerance, 8 * sigma));
  if (!far) return null;
  const { register } = state.job.units;
  const unit = registerUnitName(register);
  const read = `${labelOf(known)} ${axis} ${signedNumber(mm, register)} ${unit}`;
  return judged.ok === null
    ? `${read}: is the point in the right place? Read it again.`
    : `${read}; about ${signedNumber(expected + aim, register)} was expected. Read it again.`;
};

/** What the sample in the hand carries of knobs turned that the last check did not, mm: it lies where it was pulled, or where the web is now. */
const turnedSince = (
  { press, job, judged }: RunState,
  station: string,
  axis: Axis,
  check: CheckId | undefined,
): number => {
  const last = judged.trail.at(-1);
  if (last === undefined) return 0;
  const sample =
    check === undefined
      ? judged.pulls.at(-1)
      : (judged.pulls.find((p) => p.check === check) ?? judged.trail.findLast((t) => t.check === check));
  const stations = stationsOf(press, job);
  const index = stations.findIndex((s) => s.id === station);
  const place_m = (source: 'keyed' | 'sensor'): number => samplePlace(press, source, null) ?? press.sample_m;
  const carried = (web_m: number, at_m: number): number => turnedAt(judged, stations, axis, web_m, at_m)[index] ?? 0;
  return (
    carried(sample?.web_m ?? judged.web.base_m, place_m('keyed')) -
    carried(last.web_m, place_m(last.sensor ? 'sensor' : 'keyed'))
  );
};

/** In make-ready anything is possible; a slip of the decimal point is still asked about. */
const MAKE_READY_MM = 5;
