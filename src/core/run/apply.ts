import type { Finding } from '../finding.js';
import type { LogRecord } from '../record.js';
import { applyAct } from './acts.js';
import { announce } from './announce.js';
import { comesLate } from './comes-late.js';
import { judgeCheck } from './judge-check.js';
import { rematch } from './rematch.js';
import type { Act, Judged, RunState } from './state.js';

/** How many records are kept to judge anew from; a withdrawal older than twice this is taken from the log by the rim (`refoldFrom`). */
export const KEPT_RECORDS = 96;
const KEPT_ACTS = 80;
const KEPT_HOLD_SETS = 500;

export type Applied = { readonly state: RunState; readonly found: readonly Finding[] };

/**
 * Takes one record and says what it makes known. Nothing is ever rewritten: a record that takes another back, or was recorded late, makes
 * the judgement anew from a snapshot, and what was said before is held against it.
 */
export const apply = (state: RunState, record: LogRecord): Applied => {
  const noted = note(state, record);
  const late = isLate(state.judged, record);
  const judged = record.type === 'withdraw' || late ? anew(noted, record, late) : judge(noted, state.judged, record);
  const recent = remember(noted, record, judged, late);
  const rejudged = record.type === 'withdraw' || late;
  const said = rejudged ? rematch(noted.said, state.judged, judged) : noted.said;
  const announced = announce(said, judged);
  return { state: { ...noted, judged, recent, said: announced.said }, found: announced.found };
};

/** One record on the judgement alone. */
export const judge = (state: Pick<RunState, 'press' | 'job'>, judged: Judged, record: LogRecord): Judged =>
  record.type === 'check'
    ? judgeCheck(state.press, state.job, judged, record)
    : applyAct(state.press, state.job, judged, record);

const judgeAll = (state: RunState, base: Judged, records: readonly LogRecord[]): Judged => {
  let judged = base;
  for (const record of records) if (!isWithdrawn(state, record)) judged = judge(state, judged, record);
  return judged;
};

const isWithdrawn = (state: RunState, record: LogRecord): boolean =>
  state.withdrawn.includes(record.seq) ||
  ((record.type === 'check' || record.type === 'pull') && state.withdrawn_checks.includes(record.check));

/** A move, a wash or a knob measured, told after a check whose sample it concerns. */
const isLate = (judged: Judged, record: LogRecord): boolean =>
  comesLate(record) && judged.last_check !== null && record.web_m < judged.last_check.web_m;

const anew = (state: RunState, record: LogRecord, late: boolean): Judged =>
  judgeAll(state, state.recent.base, late ? inPlace(state.recent.records, record) : state.recent.records);

/** A late record stands before the first check whose sample was pulled after it. */
const inPlace = (records: readonly LogRecord[], late: LogRecord): readonly LogRecord[] => {
  const at = 'web_m' in late && late.web_m !== null ? late.web_m : Infinity;
  // Before OK to run positions were the press counter's: there is nothing to compare with.
  const passed = records.findLastIndex((r) => r.type === 'ok' && r.zero_m !== null);
  const before = records.findIndex((r, i) => i > passed && r.type === 'check' && r.web_m > at);
  return before < 0 ? [...records, late] : [...records.slice(0, before), late, ...records.slice(before)];
};

const remember = (state: RunState, record: LogRecord, judged: Judged, late: boolean): RunState['recent'] => {
  const { recent } = state;
  const records =
    record.type === 'withdraw' ? recent.records : late ? inPlace(recent.records, record) : [...recent.records, record];
  if (record.type === 'withdraw' || late) return { ...recent, records, middle: null, middle_at: 0 };
  if (recent.middle === null)
    return records.length < KEPT_RECORDS
      ? { ...recent, records }
      : { ...recent, records, middle: judged, middle_at: records.length };
  if (records.length - recent.middle_at < KEPT_RECORDS) return { ...recent, records };
  return {
    base: recent.middle,
    records: records.slice(recent.middle_at),
    middle: judged,
    middle_at: records.length - recent.middle_at,
  };
};

/** What is kept of a record outside the judgement: who, which check comes next, what was taken back. */
const note = (state: RunState, record: LogRecord): RunState => {
  const next_check =
    (record.type === 'pull' || record.type === 'check') && typeof record.check === 'number'
      ? Math.max(state.next_check, record.check + 1)
      : state.next_check;
  const operator =
    record.type === 'shift'
      ? (record.incoming ?? state.operator)
      : record.by === 'sensor' || record.by === 'program'
        ? state.operator
        : record.by;
  const base = { ...state, seq: record.seq, next_check, operator };
  switch (record.type) {
    case 'withdraw':
      return {
        ...base,
        withdrawn: record.entry === null ? state.withdrawn : [...state.withdrawn, record.entry],
        withdrawn_checks: record.check === null ? state.withdrawn_checks : [...state.withdrawn_checks, record.check],
        acts: remembered(
          state.acts.map((a) => (takenBack(a, record) ? { ...a, withdrawn: true } : a)),
          record,
        ),
        hold_sets: state.hold_sets.filter((set) => set.seq !== record.entry),
        held_by_hand: state.held_by_hand.filter((held) => held.seq !== record.entry),
      };
    case 'hold':
      return {
        ...base,
        hold_sets: [...state.hold_sets, record].slice(-KEPT_HOLD_SETS),
        acts: remembered(state.acts, record),
      };
    case 'held':
      return { ...base, held_by_hand: [...state.held_by_hand, record], acts: remembered(state.acts, record) };
    case 'sensor':
      return {
        ...base,
        sensor: record.state === 'detached' ? null : { state: record.state, detail: record.detail, at: record.at },
      };
    case 'pull':
      return base;
    case 'check':
      return record.source === 'sensor' ? base : { ...base, acts: remembered(state.acts, record) };
    default:
      return { ...base, acts: remembered(state.acts, record) };
  }
};

const takenBack = (act: Act, record: Extract<LogRecord, { type: 'withdraw' }>): boolean =>
  act.seq === record.entry ||
  (record.check !== null && act.record.type === 'check' && act.record.check === record.check);

const remembered = (acts: readonly Act[], record: LogRecord): readonly Act[] =>
  [...acts, { seq: record.seq, at: record.at, by: record.by, record, withdrawn: false }].slice(-KEPT_ACTS);
