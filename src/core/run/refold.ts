import type { LogRecord } from '../record.js';
import { announce } from './announce.js';
import { type Applied, apply, judge, KEPT_RECORDS } from './apply.js';
import { begin } from './begin.js';
import { comesLate } from './comes-late.js';
import { rematch } from './rematch.js';
import type { Judged, RunState } from './state.js';

/** Whether a record takes back, or comes late before, something older than what the state still keeps: `apply` alone cannot judge that anew. */
export const reachesBack = (state: RunState, record: LogRecord): boolean => {
  const { base, records } = state.recent;
  if (record.type === 'withdraw')
    return !records.some(
      (r) => r.seq === record.entry || (record.check !== null && r.type === 'check' && r.check === record.check),
    );
  if (!comesLate(record)) return false;
  return base.last_check !== null && record.web_m < base.last_check.web_m;
};

/**
 * Takes such a record: the judgement is made anew from the run's first record, without all that was taken back and with what came late in its place, as
 * `apply` does from its snapshot. `log` gives every record before this one, first to last, each time it is asked. Costs O(history); needs the memory of one state.
 */
export const refold = (state: RunState, record: LogRecord, log: () => Iterable<LogRecord>): Applied => {
  const noted = apply(state, record).state;
  const gone = { entries: new Set(noted.withdrawn), checks: new Set(noted.withdrawn_checks) };
  const isGone = (r: LogRecord): boolean =>
    gone.entries.has(r.seq) || ((r.type === 'check' || r.type === 'pull') && gone.checks.has(r.check));
  const { late, count } = lateOnes(upTo(log(), record), isGone);
  let judged: Judged | null = null;
  let base: Judged | null = null;
  let seen = 0;
  const records: LogRecord[] = [];
  for (const r of inPlace(upTo(log(), record), late)) {
    if (judged === null) {
      const begun = begin(r);
      if (!begun.ok) return apply(state, record);
      judged = begun.value.judged;
      continue;
    }
    if (seen >= count - KEPT_RECORDS) {
      base ??= judged;
      records.push(r);
    }
    seen += 1;
    if (!isGone(r)) judged = judge(noted, judged, r);
  }
  if (judged === null) return apply(state, record);
  const announced = announce(rematch(state.said, state.judged, judged), judged);
  const recent = { base: base ?? judged, records, middle: null, middle_at: 0 };
  return { state: { ...noted, judged, recent, said: announced.said }, found: announced.found };
};

/** A move or a wash that was told after a check whose sample it concerns; `passed`: the entry from which positions can be compared with it. */
type Late = { readonly record: LogRecord; readonly web_m: number; readonly passed: number };

/** All records up to one, that one included; entries that take others back are not judged themselves. */
function* upTo(log: Iterable<LogRecord>, last: LogRecord): Generator<LogRecord> {
  for (const record of log) {
    if (record.seq >= last.seq) break;
    if (record.type !== 'withdraw') yield record;
  }
  if (last.type !== 'withdraw') yield last;
}

const lateOnes = (
  records: Iterable<LogRecord>,
  isGone: (record: LogRecord) => boolean,
): { readonly late: readonly Late[]; readonly count: number } => {
  const late: Late[] = [];
  let check_m: number | null = null;
  let passed = 0;
  let count = -1;
  for (const r of records) {
    count += 1;
    if (r.type === 'ok' && r.zero_m !== null && passed === 0) {
      check_m = check_m === null ? null : check_m - r.zero_m;
      passed = r.seq;
    }
    if (r.type === 'check' && !isGone(r)) check_m = r.web_m;
    if (comesLate(r) && check_m !== null && r.web_m < check_m) late.push({ record: r, web_m: r.web_m, passed });
  }
  return { late, count };
};

/** A late record stands before the first check whose sample was pulled after it. */
function* inPlace(records: Iterable<LogRecord>, late: readonly Late[]): Generator<LogRecord> {
  const waiting = new Map(late.map((one) => [one.record.seq, one]));
  const placed = new Set<number>();
  for (const r of records) {
    if (r.type === 'check')
      for (const [seq, one] of waiting)
        if (seq > r.seq && r.seq > one.passed && r.web_m > one.web_m) {
          waiting.delete(seq);
          placed.add(seq);
          yield one.record;
        }
    if (!placed.has(r.seq)) yield r;
  }
}
