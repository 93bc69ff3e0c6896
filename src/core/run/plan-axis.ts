import type { Axis } from '../axis.js';
import { chanceOf, GOING, slopeOf } from '../drift/level-filter.js';
import { stepsIn } from '../drift/spacing.js';
import { type Choice, type Choosable, chooseMoves } from '../planner/choose-moves.js';
import { type Costs, outNext, outNow } from '../planner/expected-loss.js';
import { meanOf, standingOf } from '../planner/standing.js';
import { ACT_AT } from './grade.js';
import { knobOf } from './knob-of.js';
import type { Levels } from './levels.js';
import type { Measured } from './measured.js';
import { EDGE_MM } from './pairs.js';
import { reachedBy } from './reached-by.js';
import { isDoubted, labelsOfSample, NEAR_TURNING, type SampleLabels } from './second-labels.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged } from './state.js';
import { toleranceIn } from './tolerance-in.js';
import { unseenTurns } from './unseen-turns.js';
import type { Watching } from './watching.js';

/** What is to be done on one axis at this check, mm of print, before it is split into teeth and divisions. */
export type AxisPlan = {
  /** Move of the reference's print; 0 = it is left. */
  readonly reference_mm: number;
  /** Moves of the others, by station. */
  readonly stations: Readonly<Record<string, number>>;
  /** Stations to be read on a second label before anything is turned for them. */
  readonly read_again: readonly string[];
  /** Where each stands now, corrections that no sample shows yet among it; null = never read. */
  readonly levels: Levels;
  /** Stations that surely go at a slope, mm a check. */
  readonly going: Readonly<Record<string, number>>;
  /** Fixed stations outside tolerance that all the print is brought to, at a stop. */
  readonly meets: readonly string[];
};

/** Searched on the even seeds of the second press (tests/second-press); reported on the odd ones. */
const COSTS = { offset_m: 200, going_offset_m: 100, touch_m: 36 } as const;
/** A check says nothing of what happens in less web than this: what is off stays off until it is turned. */
const LEAST_HORIZON_M = 1000;
/** A slope is carried no farther ahead, distances between checks: a sensor's next look is near, whenever the next roll comes off. */
const MOST_STEPS = 4;
const SURELY_GOING = 0.6;
/** Stations read again before what moved all of them is believed: a misread reference mark looks exactly so. */
const LABELS_FOR_ALL = 3;

/** The plan for one axis, from the estimate after this check and the one before it. */
export const planAxis = (seen: SeenCheck, judged: Judged, watching: Watching, next_m: number | null): AxisPlan => {
  const { axis } = watching;
  const state = watching.now[axis];
  const here_m = seen.check.web_m;
  const horizon_m = Math.max(LEAST_HORIZON_M, next_m === null ? 0 : next_m - here_m);
  const steps = next_m === null ? 1 : Math.min(MOST_STEPS, Math.max(0.25, stepsIn(next_m - here_m, state.spacing_m)));
  const costs: Costs = { ...COSTS, horizon_m };
  const levels: Record<string, { mean_mm: number; sd_mm: number } | null> = {};
  const going: Record<string, number> = {};
  const again: { readonly id: string; readonly worth: number }[] = [];
  const choosable: Choosable[] = [];
  const unseen = unseenTurns(seen, judged, axis);
  const labels = labelsOfSample(seen, judged, axis);
  seen.stations.forEach((station, k) => {
    if (station.id === judged.reference) {
      levels[station.id] = { mean_mm: 0, sd_mm: 0 };
      return;
    }
    const f = state.filters[k] ?? null;
    if (f === null || (state.lastRead[k] ?? -1) < 0) {
      levels[station.id] = null;
      return;
    }
    const sigma = state.known.sigma[k] ?? state.known.pooled;
    const tolerance_mm = toleranceIn(judged, station.id, axis);
    const pending = unseen[k] ?? { mm: 0, variance: 0 };
    const standing = standingOf(f, sigma, steps, (state.turned[k] ?? 0) + pending.mm, pending.variance);
    const level = meanOf(standing);
    levels[station.id] = { mean_mm: level.now, sd_mm: level.sd };
    if (chanceOf(f, [GOING]) >= SURELY_GOING) going[station.id] = slopeOf(f);
    // A plate on crooked, or a web that has changed its width: no register knob cures that.
    const read = seen.measured[k];
    if (read !== undefined && edgesDisagree(judged, read, axis)) return;
    choosable.push({
      id: station.id,
      standing,
      tolerance_mm,
      fixed: station.fixed.includes(axis),
      step_mm: knobOf(judged, station, axis).division_mm,
    });
    if (pending.mm === 0 && isDoubted(seen, watching, k, sigma, tolerance_mm, standing, labels))
      again.push({ id: station.id, worth: Math.abs(level.now) / tolerance_mm });
  });
  if (again.length === 0 && oneLabelSays(seen, axis, state.shift, labels)) again.push(...widest(choosable, levels));
  const reference = seen.stations.find((s) => s.id === judged.reference);
  const step =
    reference === undefined || reference.fixed.includes(axis) ? 'fixed' : knobOf(judged, reference, axis).division_mm;
  const chosen = alikeTo(choosable, levels, chooseMoves(...mayTurn(seen, judged, watching, choosable, step), costs));
  const waits = new Set(again.map((a) => a.id));
  // What most stations show together, and not on this label alone, no misread mark of one of them explains.
  const stands = state.shift.length === 0 && mostGo(choosable, levels, chosen.reference_mm);
  // While register settles, only what is out is turned: it may come back by itself.
  const settles = seen.settling && !anyOut(seen, judged, axis, levels);
  const shared = waits.size > 0 && !stands && (chosen.reference_mm !== 0 || state.shift.length > 0);
  const stations = Object.fromEntries(
    Object.entries(chosen.stations).filter(([id]) => !settles && !shared && !waits.has(id)),
  );
  return {
    reference_mm: settles || shared ? 0 : chosen.reference_mm,
    stations,
    read_again: settles
      ? []
      : again
          .toSorted((a, b) => b.worth - a.worth)
          .slice(0, shared ? LABELS_FOR_ALL : again.length)
          .map((a) => a.id),
    levels,
    going,
    meets: settles || shared ? [] : chosen.meets,
  };
};

/**
 * What may be turned, and the step of the reference. Where stations stand off their aims from the start, only what is outside or will likely
 * be, and what a movement that the watch found reaches: its evidence keeps to the false notices asked for.
 */
const mayTurn = (
  seen: SeenCheck,
  judged: Judged,
  { axis, stands_off, movements }: Watching,
  stations: readonly Choosable[],
  step: number | null | 'fixed',
): readonly [readonly Choosable[], number | null | 'fixed'] => {
  if (!stands_off) return [stations, step];
  const live = movements.filter((m) => !m.settled);
  const reached = new Set(live.flatMap((m) => reachedBy(m.cause, seen.stations, judged.reference)));
  const leaving = (s: Choosable): boolean => {
    const mm = seen.measured.find((x) => x.station === s.id)?.mm[axis] ?? 0;
    return (
      Math.abs(mm) > s.tolerance_mm + EDGE_MM ||
      (s.standing !== null &&
        Math.max(outNow(s.standing, s.tolerance_mm), outNext(s.standing, s.tolerance_mm)) >= ACT_AT)
    );
  };
  const gone = stations.filter(leaving);
  const together =
    live.some((m) => m.cause.kind !== 'station' || m.cause.station === judged.reference) ||
    gone.some((s) => s.fixed) ||
    2 * gone.length > stations.length;
  return [
    stations.map((s) => (together || reached.has(s.id) || gone.includes(s) ? s : { ...s, fixed: true })),
    together ? step : 'fixed',
  ];
};

/** Where all the print is brought to something fixed, every station goes alike; one that is off by itself is brought in as well. */
const alikeTo = (stations: readonly Choosable[], levels: Levels, chosen: Choice): Choice & Pick<AxisPlan, 'meets'> => {
  const r = chosen.reference_mm;
  const meets = stations.flatMap((s) => {
    const mm = levels[s.id]?.mean_mm ?? 0;
    return s.fixed && r !== 0 && Math.abs(mm) > s.tolerance_mm && Math.abs(mm - r) < Math.abs(mm) ? [s.id] : [];
  });
  if (meets.length === 0) return { ...chosen, meets };
  const moves = Object.entries(chosen.stations).map(([id, mm]) => {
    const tolerance_mm = stations.find((s) => s.id === id)?.tolerance_mm ?? 0;
    return [id, Math.abs(mm - r) <= NEAR_TURNING * tolerance_mm ? r : mm] as const;
  });
  return { ...chosen, stations: Object.fromEntries(moves), meets };
};

/** Share of stations that stand the way the reference is to be moved, by at least half as much. */
const MOST = 0.75;

const mostGo = (stations: readonly Choosable[], levels: Levels, reference_mm: number): boolean => {
  const known = stations.flatMap((s) => levels[s.id]?.mean_mm ?? []);
  const go = known.filter((mm) => mm * Math.sign(reference_mm) >= Math.abs(reference_mm) / 2);
  return reference_mm !== 0 && go.length >= MOST * known.length;
};

/** The edges of the web are further apart than the tolerance is wide on one side. */
export const edgesDisagree = (judged: Judged, x: Measured, axis: Axis): boolean => {
  const apart = x.edges_apart_mm[axis];
  return apart !== null && Math.abs(apart) > toleranceIn(judged, x.station, axis);
};

/** All stations moved together by this label, and no other label of the sample has been read. */
const oneLabelSays = (seen: SeenCheck, axis: Axis, shift: readonly number[], labels: SampleLabels): boolean =>
  shift.length > 0 && seen.check.source === 'keyed' && labels.every((t) => t[axis].every((mm) => mm === null));

/** The stations that would be turned farthest for their tolerance. */
const widest = (stations: readonly Choosable[], levels: Levels): readonly { id: string; worth: number }[] =>
  stations
    .map((s) => ({ id: s.id, worth: Math.abs(levels[s.id]?.mean_mm ?? 0) / s.tolerance_mm }))
    .toSorted((a, b) => b.worth - a.worth)
    .slice(0, LABELS_FOR_ALL);

const anyOut = (seen: SeenCheck, judged: Judged, axis: Axis, levels: Levels): boolean =>
  seen.stations.some((s) => Math.abs(levels[s.id]?.mean_mm ?? 0) > toleranceIn(judged, s.id, axis));
