import type { Axis } from '../axis.js';
import { scatter } from '../drift/scatter-now.js';
import type { CheckId, LogRecord } from '../record.js';
import { type KnobTrial, knobTrial } from '../set-up/knob-trial.js';
import { printedAt, samplePlace, tellsFrom } from '../web.js';
import { knobOf } from './knob-of.js';
import type { RunState, Trail, Turned } from './state.js';
import { type Station, stationsOf } from './stations.js';
import { watchConfig } from './watch-config.js';

/** A knob that was turned to be measured, as far as the log tells it. */
export type OpenTrial = {
  readonly station: string;
  readonly axis: Axis;
  /** As turned in all, + the way the mark says ahead / operator side. */
  readonly divisions: number;
  readonly turns: readonly { readonly entry: number; readonly divisions: number; readonly web_m: number }[];
  readonly before: { readonly check: CheckId; readonly mm: number };
  /** A sample pulled from here on was printed wholly after the turn. */
  readonly tells_from_m: number;
  /** Read off samples printed wholly after it, oldest first. */
  readonly after: readonly { readonly check: CheckId; readonly mm: number }[];
  /** What that says; null = nothing was read after it yet. */
  readonly result: KnobTrial | null;
};

/** Samples after the turn that are taken together: by then something else may have moved. */
const MOST_AFTER = 4;

/**
 * The trial of a knob that is not concluded, told from the log alone, so that it outlives the board: turns marked as a trial, the last reading of a sample
 * pulled before the first of them, and those of samples printed wholly after the last. null = none is open, or it tells nothing any more: the station or
 * the reference was turned otherwise in between, or another plate, die, reference or OK to run came.
 */
export const openTrial = (state: RunState): OpenTrial | null => {
  const { judged } = state;
  const last = judged.turns.findLast((t) => t.trial);
  if (last === undefined) return null;
  const stations = stationsOf(state.press, state.job);
  const others = judged.turns.filter(
    (t) => !t.trial && (concerns(t, last.station, last.axis) || concerns(t, judged.reference, last.axis)),
  );
  const acts = state.acts.filter((a) => !a.withdrawn);
  // Once held to a sample, any OK to run sets other aims: those of another sample, or of the job again.
  const held = acts.some(({ record }) => record.type === 'ok' && record.hold_to === 'sample');
  const anew = acts.findLast((a) => setsAnew(a.record, last.station, judged.reference, held))?.seq ?? 0;
  const other_m = others.findLast((t) => t.web_m <= last.web_m)?.web_m ?? -Infinity;
  const index = stations.findIndex((s) => s.id === last.station);
  const station = stations[index];
  const turns = judged.turns.filter(
    (t) => t.trial && concerns(t, last.station, last.axis) && t.seq > anew && t.web_m > other_m,
  );
  const first = turns[0];
  if (station === undefined || first === undefined || station.id === judged.reference) return null;
  const read = judged.trail.flatMap((t) => {
    const mm = t[last.axis][index] ?? null;
    return mm === null ? [] : [{ trail: t, mm }];
  });
  const before = read.findLast(({ trail }) => trail.web_m <= first.web_m);
  if (before === undefined) return null;
  const spoiled = others.find((t) => t.web_m > printed(state, station, before.trail))?.web_m ?? Infinity;
  if (spoiled <= last.web_m) return null;
  const after = read
    .filter(({ trail }) => printed(state, station, trail) >= last.web_m && trail.web_m <= spoiled)
    .slice(0, MOST_AFTER);
  if (after.length === 0 && spoiled < Infinity) return null;
  const { sense } = knobOf(judged, station, last.axis);
  const byMark = (t: Turned): number => (t.divisions ?? 0) * sense;
  const divisions = turns.reduce((sum, t) => sum + byMark(t), 0);
  return {
    station: station.id,
    axis: last.axis,
    divisions,
    turns: turns.map((t) => ({ entry: t.seq, divisions: byMark(t), web_m: t.web_m })),
    before: { check: before.trail.check, mm: before.mm },
    tells_from_m: tellsFrom(last.web_m, state.press.sample_m, station.at_m),
    after: after.map(({ trail, mm }) => ({ check: trail.check, mm })),
    result:
      after.length === 0
        ? null
        : knobTrial(
            before.mm,
            after.map(({ mm }) => mm),
            divisions,
            readingSd(state, last.axis, index, before.trail.sensor ? 'sensor' : 'keyed'),
          ),
  };
};

/** The last reading of a station, where it shows the press as it is set now; null = a sample is to be read first. */
export const readAsSet = (
  state: RunState,
  station: Station,
  axis: Axis,
): { readonly check: CheckId; readonly mm: number } | null => {
  const { judged } = state;
  const last = judged.read[station.id]?.[axis];
  if (last === undefined || last.mm === null || last.check === null) return null;
  const trail = judged.trail.findLast((t) => t.check === last.check);
  if (trail === undefined) return null;
  const since = printed(state, station, trail);
  const turned = judged.turns.some(
    (t) => t.web_m > since && (concerns(t, station.id, axis) || concerns(t, judged.reference, axis)),
  );
  return turned ? null : { check: last.check, mm: last.mm };
};

const concerns = (turn: Turned, station: string, axis: Axis): boolean => turn.station === station && turn.axis === axis;

/** What makes readings before and after it not comparable. */
const setsAnew = (record: LogRecord, station: string, reference: string, held: boolean): boolean => {
  if (record.type === 'plate') return record.station === station || record.station === reference;
  return record.type === 'die' || record.type === 'reference' || (record.type === 'ok' && held);
};

const printed = (state: RunState, station: Station, trail: Trail): number => {
  const place = samplePlace(state.press, trail.sensor ? 'sensor' : 'keyed', null) ?? state.press.sample_m;
  return printedAt(trail.web_m, place, station.at_m);
};

/** Scatter of one reading of a station: as learned in this run, else as the job expects. */
const readingSd = (state: RunState, axis: Axis, index: number, kind: 'keyed' | 'sensor'): number => {
  const { press, job, judged } = state;
  const watch = judged.watch[kind];
  const learned =
    watch === null ? undefined : scatter(watchConfig(press, job, judged, kind), watch)[axis].station_mm[index];
  return learned ?? job.reading.spread_mm[axis];
};
