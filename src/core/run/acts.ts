import { initialResponse } from '../adjust/response.js';
import { holdCorrected, holdRollOff } from '../hold/hold.js';
import { rollOnRewind } from '../hold/roll-ends.js';
import type { Job } from '../job.js';
import { noteWash, platesStart } from '../plates/plates.js';
import type { Press } from '../press.js';
import type { LogRecord } from '../record.js';
import { setClock, setSpeed, startWeb, stopWeb } from '../web.js';
import { counterAt, read_m, readsTheCounter } from './counter-read.js';
import { giveWay } from './from-zero.js';
import { okGiven } from './ok-given.js';
import type { Judged, LastRead, Movement, Turned, WebMark } from './state.js';
import { stationsOf } from './stations.js';
import { foldTurns } from './turned.js';

const KEPT_MARKS = 600;
const KEPT_TURNS = 200;
const SPEED_JUMP = 0.2;

/** What one record that is not a check does to the judgement. */
export const applyAct = (press: Press, job: Job, before: Judged, record: LogRecord): Judged => {
  const judged = readsTheCounter(record, before) ? giveWay(before, record.web_m) : before;
  switch (record.type) {
    case 'pull':
      return {
        ...judged,
        web: counterAt(judged, record),
        pulls: [
          ...judged.pulls,
          { check: record.check, web_m: record.web_m, at: record.at, roll: record.roll, place: record.place },
        ],
      };
    case 'ok':
      return okGiven(press, job, judged, record);
    case 'correction':
      return corrected(judged, record);
    case 'knob':
      return knobMeasured(judged, record);
    case 'roll': {
      const settled = settle(job, judged, record.web_m);
      const spliced = mark(settled, { kind: 'stock', web_m: record.web_m, roll: record.roll ?? null });
      const roll = { ...spliced.roll, stock_m: record.web_m };
      const stock = { ...spliced, roll, web: counterAt(judged, record) };
      return record.also_finished === true ? rollOff(job, stock, record.web_m, record.roll ?? null) : stock;
    }
    case 'finished':
      return mark(rollOff(job, { ...judged, web: counterAt(judged, record) }, record.web_m, record.roll), {
        kind: 'finished',
        web_m: record.web_m,
        roll: record.roll,
      });
    case 'wash':
      return mark(
        {
          ...judged,
          holds: washedHolds(press, job, judged, record.station, record.web_m),
          plates: noteWash(judged.plates, record.station, record.web_m),
          web: counterAt(judged, record),
        },
        { kind: 'wash', web_m: record.web_m, station: record.station },
      );
    case 'speed': {
      const was = judged.web.speed_m_per_min;
      const big = was !== null && Math.abs(record.m_per_min - was) > SPEED_JUMP * Math.max(was, record.m_per_min);
      const web = setSpeed(counterAt(judged, record), record.m_per_min, Date.parse(record.at));
      return mark(big ? settle(job, { ...judged, web }, record.web_m) : { ...judged, web }, {
        kind: 'speed',
        web_m: record.web_m,
        m_per_min: record.m_per_min,
      });
    }
    case 'stop':
      return mark(
        {
          ...judged,
          phase: judged.ok === null ? 'make-ready' : 'stopped',
          web: stopWeb(judged.web, read_m(judged, record), Date.parse(record.at)),
        },
        { kind: 'stop', web_m: record.web_m },
      );
    case 'start': {
      const web = startWeb(judged.web, read_m(judged, record), record.m_per_min ?? null, Date.parse(record.at));
      return mark(settle(job, { ...judged, web, phase: judged.ok === null ? 'make-ready' : 'running' }, record.web_m), {
        kind: 'start',
        web_m: record.web_m,
      });
    }
    case 'plate':
      return {
        ...newMarks(judged, record.web_m, [record.station]),
        plates: platesStart(judged.plates, record.station, record.web_m),
      };
    case 'die':
      return newMarks(
        judged,
        record.web_m,
        stationsOf(press, job).flatMap((s) => (s.kind === 'die' ? [s.id] : [])),
      );
    case 'reference':
      return {
        ...newMarks(
          { ...judged, reference: record.station },
          record.web_m,
          stationsOf(press, job).map((s) => s.id),
        ),
        watch: { keyed: null, sensor: null, latest: judged.watch.latest },
      };
    case 'tolerance': {
      const was = judged.tolerance_mm[record.station] ?? { along: Infinity, across: Infinity };
      const now = { along: record.along_mm ?? was.along, across: record.across_mm ?? was.across };
      return { ...judged, tolerance_mm: { ...judged.tolerance_mm, [record.station]: now } };
    }
    case 'web-set':
      return {
        ...settle(job, { ...judged, web: counterAt(judged, record) }, record.web_m),
        tension_looked_m: record.web_m,
        movements: judged.movements.map((m) => (m.cause.kind === 'web' ? webLookedTo(m) : m)),
      };
    case 'seen':
      return { ...judged, movements: judged.movements.map((m) => (m.closed === null ? { ...m, seen: true } : m)) };
    case 'position':
      return { ...judged, web: counterAt(judged, record) };
    case 'counter':
      return {
        ...judged,
        counter_offset_m: record.offset_m,
        counters: [...judged.counters, { from_m: record.web_m, offset_m: record.offset_m }],
      };
    case 'shift':
      return { ...judged, web: counterAt(judged, record) };
    case 'note':
      return record.clock_ms === undefined ? judged : { ...judged, web: setClock(judged.web, record.clock_ms) };
    case 'end':
      return { ...judged, phase: 'ended', web: stopWeb(judged.web, read_m(judged, record), Date.parse(record.at)) };
    default:
      return judged;
  }
};

const mark = (judged: Judged, made: WebMark): Judged => ({
  ...judged,
  marks: [...judged.marks, made].slice(-KEPT_MARKS),
});

const washedHolds = (press: Press, job: Job, judged: Judged, station: string, web_m: number): Judged['holds'] => {
  const washed =
    station === 'all' ? stationsOf(press, job).flatMap((s) => (s.kind === 'print' ? [s.id] : [])) : [station];
  return washed.reduce((holds, id) => holdCorrected(holds, id, 'plate', web_m), judged.holds);
};

/** What was to be turned for the web was read before it was changed: the next sample tells what is left. */
const webLookedTo = (m: Movement): Movement => {
  if (m.closed !== null || m.advice === null) return m;
  const { look_first: _, ...advice } = m.advice;
  const why = 'What carries the web was changed since: the next sample, when register has settled, tells what is left.';
  return { ...m, advice: { ...advice, moves: [], leaves_mm: [], why } };
};

const settle = (job: Job, judged: Judged, web_m: number): Judged => {
  if (judged.ok === null || job.settle_m <= 0) return judged;
  // A stop within a stretch that still settles makes it longer, not another one.
  const goes_on = judged.settle_from_m !== null && judged.settle_until_m !== null && web_m <= judged.settle_until_m;
  return { ...judged, settle_from_m: goes_on ? judged.settle_from_m : web_m, settle_until_m: web_m + job.settle_m };
};

const ROLL_LEARNING = 0.3;

/** A finished roll off: how long they usually are is learned, unless several went by unrecorded. */
const rollOff = (job: Job, judged: Judged, web_m: number, roll: string | null): Judged => {
  const length = judged.roll.off_m === null ? null : web_m - judged.roll.off_m;
  const believed = judged.roll.usual_m ?? job.finished_roll_m;
  const fits = length !== null && length > 0 && (believed === null || length < 1.5 * believed);
  const usual = !fits
    ? judged.roll.usual_m
    : believed === null
      ? length
      : believed + ROLL_LEARNING * (length - believed);
  // A file that gives no number has its rolls counted on, so that none is without a name.
  const name = roll ?? rollOnRewind(judged.holds.rolls);
  const holds = holdRollOff(judged.holds, name, web_m);
  return { ...judged, holds, roll: { ...judged.roll, last_off: name, off_m: web_m, usual_m: usual } };
};

const corrected = (judged: Judged, record: Extract<LogRecord, { type: 'correction' }>): Judged => {
  const belongs = judged.movements.find(
    (m) => m.closed === null && m.axis === record.axis && causeCovers(m, record.station, judged.reference),
  );
  const advised =
    belongs?.advice?.moves.some(
      (a) =>
        a.station === record.station && a.axis === record.axis && Math.sign(a.move_mm) === Math.sign(record.move_mm),
    ) ?? false;
  const turn: Turned = {
    seq: record.seq,
    station: record.station,
    axis: record.axis,
    move_mm: record.move_mm,
    teeth: record.teeth,
    divisions: record.divisions,
    web_m: record.web_m,
    event: belongs?.key ?? null,
    result: null,
    got_sd_mm: null,
    advised,
    trial: record.trial === true,
  };
  const turns = [...judged.turns, turn].sort((a, b) => a.web_m - b.web_m || a.seq - b.seq);
  const movements = judged.movements.map((m) => (m.key === belongs?.key ? { ...m, waiting: true, seen: true } : m));
  const holds = holdCorrected(judged.holds, record.station, record.axis, record.web_m);
  return {
    ...judged,
    holds,
    ...foldTurns({ turns, turned_before: judged.turned_before }, KEPT_TURNS),
    movements,
    web: counterAt(judged, record),
  };
};

/** From here on its divisions are known; what was learned of it while they were not, or were another size, is let go. */
const knobMeasured = (judged: Judged, record: Extract<LogRecord, { type: 'knob' }>): Judged => {
  const { station, axis, division_mm, sense } = record;
  const of = judged.knobs[station];
  return {
    ...judged,
    measured_knobs: {
      ...judged.measured_knobs,
      [station]: { ...judged.measured_knobs[station], [axis]: { division_mm, sense } },
    },
    knobs:
      of === undefined
        ? judged.knobs
        : { ...judged.knobs, [station]: { ...of, [axis]: { ...initialResponse(true), last: of[axis].last } } },
  };
};

/** The reference's station for cause reference, any station for web or several. */
const causeCovers = (movement: Movement, station: string, reference: string): boolean => {
  const { cause } = movement;
  if (cause.kind === 'station') return cause.station === station;
  return cause.kind === 'reference' ? station === reference : true;
};

/** A new plate or die, or another reference: what was read of these stations says nothing of them now. */
const newMarks = (judged: Judged, web_m: number, stations: readonly string[]): Judged => {
  const unread: LastRead = { mm: null, check: null, web_m: null, looked: null, edges_apart_mm: null };
  const read = { ...judged.read };
  for (const id of stations) read[id] = { along: unread, across: unread };
  if (judged.ok !== null) return { ...judged, read };
  const from = Object.fromEntries(stations.map((id) => [id, web_m]));
  return { ...judged, read, new_marks_m: { ...judged.new_marks_m, ...from } };
};
