import { AXES, type Axis } from '../axis.js';
import { reachedBy } from '../run/reached-by.js';
import type { RunState } from '../run/state.js';
import { type Station, stationsOf } from '../run/stations.js';
import { NO_SUMS, sdOf } from '../run/sums.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { nearestIndex } from '../spc/capability.js';
import { D2_OF_TWO } from '../spc/constants.js';
import type { RegisterState } from './board-view.js';
import { stateOf } from './station-views.js';

export type SummaryLine = {
  readonly station: string;
  readonly axis: Axis;
  readonly n: number;
  readonly mean_mm: number | null;
  readonly sd_mm: number | null;
  /** Process capability against the tolerance about the aim; null with too few readings or when the station did not hold steady. */
  readonly cpk: number | null;
  /** Its 95 % interval; null with cpk. */
  readonly cpk_95: { readonly low: number; readonly high: number } | null;
  readonly state: RegisterState;
};

/** Readings before a capability means anything. */
const ENOUGH = 10;

/** Each station and axis over the whole run, readings against the aim; the reference, which is never read, left out. */
export const summaryOf = (state: RunState): readonly SummaryLine[] =>
  stationsOf(state.press, state.job)
    .filter((s) => s.id !== state.judged.reference)
    .flatMap((station) => AXES.map((axis) => line(state, station, axis)));

const line = (state: RunState, station: Station, axis: Axis): SummaryLine => {
  const { judged } = state;
  const sums = judged.sums[station.id]?.[axis] ?? NO_SUMS;
  const sd = sdOf(sums);
  const stations = stationsOf(state.press, state.job);
  const moved = judged.movements.some(
    (m) =>
      m.axis === axis &&
      m.closed?.how !== 'withdrawn' &&
      reachedBy(m.cause, stations, judged.reference).includes(station.id),
  );
  const within = sums.steps === 0 ? null : sums.step_sum / sums.steps / D2_OF_TWO;
  const tolerance = toleranceIn(judged, station.id, axis);
  const steady = !moved && sums.n >= ENOUGH && within !== null && within > 0 && Number.isFinite(tolerance);
  // Readings that repeat on the gauge's step have scattered by at least what rounding hides: its step / √12.
  const floor = state.job.reading.resolution_mm / Math.sqrt(12);
  const cpk = steady && within !== null ? (tolerance - Math.abs(sums.mean)) / (3 * Math.max(within, floor)) : null;
  const interval = cpk === null ? null : nearestIndex(cpk, sums.n, 0.95);
  return {
    station: station.id,
    axis,
    n: sums.n,
    mean_mm: sums.n === 0 ? null : sums.mean,
    sd_mm: sd,
    cpk,
    cpk_95: interval === null ? null : { low: interval.low, high: interval.high },
    state: stateOf(state, station, axis),
  };
};
