import type { Axis } from '../axis.js';
import { usedTravel } from '../run/advise.js';
import { knobOf } from '../run/knob-of.js';
import { nextCheck } from '../run/next-check.js';
import { readAsSet } from '../run/open-trial.js';
import { outlookOf } from '../run/outlook.js';
import { reachedBy } from '../run/reached-by.js';
import type { RunState } from '../run/state.js';
import { isMeasured, labelOf, type Station, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { loupeBias } from '../sensor-bias.js';
import type { KnobView, RegisterState, StationAxisView, StationView } from './board-view.js';
import { creepOf } from './creep.js';
import { plateView } from './plate-view.js';

/** Every station of the job in web order, as the board shows it. */
export const stationViews = (state: RunState): readonly StationView[] => {
  const stations = stationsOf(state.press, state.job);
  const worth = worthMeasuring(state, stations);
  return stations.map((station) => ({
    id: station.id,
    label: labelOf(station),
    kind: station.kind,
    is_reference: station.id === state.judged.reference,
    read: station.read,
    at_m: station.at_m,
    axes: { along: axisView(state, station, 'along'), across: axisView(state, station, 'across') },
    plate: plateView(state, station.id),
    traps_with: state.job.pairs.flatMap((p) =>
      p.stations.includes(station.id) ? p.stations.filter((id) => id !== station.id) : [],
    ),
    worth_measuring: worth.includes(station.id),
    knob: { along: knobView(state, station, 'along'), across: knobView(state, station, 'across') },
  }));
};

const knobView = (state: RunState, station: Station, axis: Axis): KnobView => {
  const { word, division_mm, sense } = knobOf(state.judged, station, axis);
  const way = state.judged.turns.findLast((t) => t.station === station.id && t.axis === axis)?.move_mm;
  const last = way === undefined ? (state.judged.knobs[station.id]?.[axis].last ?? null) : way < 0 ? -1 : 1;
  return {
    word,
    division_mm,
    sense,
    last_way: last === null ? null : last === sense ? 1 : -1,
    before: readAsSet(state, station, axis),
  };
};

const axisView = (state: RunState, station: Station, axis: Axis): StationAxisView => {
  const { judged } = state;
  const last = judged.read[station.id]?.[axis] ?? null;
  const tolerance_mm = toleranceIn(judged, station.id, axis);
  const next_m = nextCheck(state.job, judged)?.web_m ?? null;
  const outlook = judged.ok === null ? null : outlookOf(state.press, state.job, judged, axis, station.id, next_m);
  const creep = creepOf(state, station.id, axis);
  const knob = station.knobs[axis];
  const used = usedTravel(judged, station, axis, state.press.tooth_mm);
  return {
    tolerance_mm,
    aim_mm: judged.aim_mm[station.id]?.[axis] ?? 0,
    last_mm: last?.mm ?? null,
    last_check: last?.check ?? null,
    looked: last?.looked ?? null,
    state: stateOf(state, station, axis),
    level_mm: outlook?.level_mm ?? null,
    // Past the end of the run nothing is foreseen.
    next: judged.phase === 'ended' ? null : (outlook?.next ?? null),
    reach: judged.phase === 'ended' ? null : (outlook?.reach ?? null),
    travel_left_mm:
      knob.travel_mm === null || knob.centred !== true
        ? null
        : { plus: Math.max(0, knob.travel_mm - used), minus: Math.max(0, knob.travel_mm + used) },
    fixed: station.fixed.includes(axis),
    ...loupeOf(state, station, axis),
    ...(creep === null ? {} : { creep_mm_roll: creep }),
  };
};

const loupeOf = ({ judged, job }: RunState, station: Station, axis: Axis): Pick<StationAxisView, 'loupe'> => {
  const differences = judged.loupe[station.id]?.[axis];
  return differences === undefined || differences.n === 0
    ? {}
    : { loupe: loupeBias(differences, job.reading.resolution_mm) };
};

/** Readings on a station and axis before its state is called holding. */
const ENOUGH = 2;

/** holding / moved / drifting / out, or why none can be said. */
export const stateOf = (state: RunState, station: Station, axis: Axis): RegisterState => {
  const { judged } = state;
  const stations = stationsOf(state.press, state.job);
  const open = judged.movements.filter((m) => m.axis === axis && m.closed === null);
  if (station.id === judged.reference) {
    const own = open.find((m) => m.cause.kind === 'reference');
    if (own === undefined) return judged.checks.made === 0 ? 'not read' : 'holding';
    return own.shape === 'ramp' ? 'drifting' : 'moved';
  }
  const last = judged.read[station.id]?.[axis] ?? null;
  const own = open.find((m) => reachedBy(m.cause, stations, judged.reference).includes(station.id));
  const n = judged.sums[station.id]?.[axis].n ?? 0;
  if (last === null || (last.mm === null && last.looked === null)) return 'not read';
  if ((last.mm !== null && Math.abs(last.mm) > toleranceIn(judged, station.id, axis) + 1e-9) || last.looked === 'off')
    return 'out';
  if (own !== undefined) return own.shape === 'ramp' ? 'drifting' : 'moved';
  if (last.mm === null) return 'holding';
  return judged.ok !== null && n < ENOUGH ? 'not enough readings' : 'holding';
};

/** The two stations that a partial check should measure: open movements first, then what was not measured for longest. */
const worthMeasuring = (state: RunState, stations: readonly Station[]): readonly string[] => {
  const { judged } = state;
  const open = judged.movements.filter((m) => m.closed === null);
  const far = Math.max(...stations.map((s) => s.at_m));
  const score = (s: Station): number => {
    const suspected = open.some((m) => m.cause.kind === 'station' && m.cause.station === s.id)
      ? 4
      : open.some((m) => reachedBy(m.cause, stations, judged.reference).includes(s.id))
        ? 1
        : 0;
    const seen = Math.max(judged.read[s.id]?.along.web_m ?? -Infinity, -1e9);
    const age =
      judged.web.keyed_ms === null
        ? 0
        : Math.min(1, Math.max(0, judged.web.base_m - seen) / 1e5 + (seen <= -1e9 ? 1 : 0));
    return suspected + age + (s.at_m / (far || 1)) * 0.01;
  };
  return stations
    .filter((s) => isMeasured(s, judged))
    .sort((a, b) => score(b) - score(a))
    .slice(0, 2)
    .map((s) => s.id);
};
