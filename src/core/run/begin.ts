import { initialResponse } from '../adjust/response.js';
import type { PerAxis } from '../axis.js';
import { firstCounter } from '../counter.js';
import { beginHold } from '../hold/hold.js';
import { initialPlates } from '../plates/plates.js';
import type { Begin, LogRecord } from '../record.js';
import { fail, ok, type Result } from '../result.js';
import { initialWebClock } from '../web.js';
import { knobOf } from './knob-of.js';
import type { Judged, LastRead, RunState } from './state.js';
import { stationsOf } from './stations.js';
import { NO_SUMS } from './sums.js';

/** The rules that judge; a log says which judged it. */
export const RULES = 1;

const UNREAD: LastRead = { mm: null, check: null, web_m: null, looked: null, edges_apart_mm: null };

/** Opens a run in make-ready from its first record. */
export const begin = (record: LogRecord): Result<RunState> => {
  if (record.type !== 'begin')
    return fail(`A run log starts with its press and job; this one starts with "${record.type}".`);
  const judged = blank(record);
  return ok({
    run: record.run,
    press: record.press,
    job: record.job,
    time_zone: record.time_zone,
    seq: record.seq,
    operator: record.by === 'program' ? null : record.by,
    next_check: 1,
    judged,
    said: { next_id: 1, events: [], corrections: [], plates: [], spans: [] },
    recent: { base: judged, records: [], middle: null, middle_at: 0 },
    withdrawn: [],
    withdrawn_checks: [],
    acts: [],
    hold_sets: [],
    held_by_hand: [],
    sensor: null,
  });
};

const blank = ({ press, job, learned }: Begin): Judged => {
  const stations = stationsOf(press, job);
  const each = <T>(make: (id: string) => T): Record<string, T> =>
    Object.fromEntries(stations.map((s) => [s.id, make(s.id)]));
  const both = <T>(value: T): PerAxis<T> => ({ along: value, across: value });
  const measured_knobs = learned?.measured ?? {};
  return {
    phase: 'make-ready',
    reference: job.reference,
    tolerance_mm: job.tolerance_mm,
    aim_mm: Object.fromEntries(stations.map((s) => [s.id, s.aim_mm])),
    ok: null,
    zero_m: 0,
    counter_offset_m: 0,
    counters: firstCounter,
    web: initialWebClock,
    settle_from_m: null,
    settle_until_m: null,
    roll: { last_off: null, off_m: null, stock_m: null, usual_m: null },
    pulls: [],
    turns: [],
    turned_before: {},
    watch: { keyed: null, sensor: null, latest: 'keyed' },
    read: each(() => both(UNREAD)),
    knobs: Object.fromEntries(
      stations.map((s) => [
        s.id,
        learned?.knobs?.[s.id] ?? {
          along: initialResponse(knobOf({ measured_knobs }, s, 'along').sense_given),
          across: initialResponse(knobOf({ measured_knobs }, s, 'across').sense_given),
        },
      ]),
    ),
    measured_knobs,
    movements: [],
    read_again: { along: [], across: [] },
    next_key: 1,
    holds: beginHold(),
    plates: initialPlates(learned?.plates),
    sums: each(() => both(NO_SUMS)),
    trail: [],
    loupe: {},
    marks: [],
    checks: { made: 0, looked_only: 0, sensor: 0, last_full_m: null },
    last_check: null,
    tension_looked_m: null,
    spacing_m: null,
    plate_said: [],
  };
};
