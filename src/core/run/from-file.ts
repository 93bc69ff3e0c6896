import type { Finding } from '../finding.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { FileRecord, FileRun } from '../readings/rows-to-records.js';
import type { LogRecord, RecordBody } from '../record.js';
import { fail, ok, type Result } from '../result.js';
import { admit } from './admit.js';
import { apply } from './apply.js';
import { begin, RULES } from './begin.js';
import type { RunState } from './state.js';

/** A file's run on its way through the judgement: each record of it and what it made known. */
export type Replayed = {
  readonly state: RunState;
  readonly record: LogRecord;
  readonly from: FileRecord;
  readonly found: readonly Finding[];
};

/** Nothing says when: times are counted from here, a minute a record, so that order is kept. */
const NO_TIME_MS = Date.UTC(2000, 0, 1);

/**
 * Feeds one run of a readings file through the same judgement as a live run, record by record. A file without an `ok` row was passed
 * before its first row. Gives the state at the end; `heard` gets each record. A record that a live run would refuse ends it.
 */
export const replayRun = (
  press: Press,
  job: Job,
  run: FileRun,
  file: string,
  heard: (one: Replayed) => void,
): Result<RunState> => {
  let seq = 0;
  let clock = NO_TIME_MS;
  const stamp = (body: RecordBody, at: string | null, by: string | null): LogRecord => {
    clock = at === null ? clock + 60_000 : Date.parse(at);
    return { v: 1, seq: ++seq, at: new Date(clock).toISOString(), by: by ?? 'file', ...body };
  };
  const first = run.records[0];
  const begun = begin(
    stamp(
      { type: 'begin', run: run.run ?? '', press, job, rules: RULES, program: '', time_zone: 'UTC' },
      first?.at ?? null,
      'program',
    ),
  );
  if (!begun.ok) return begun;
  let state = begun.value;
  if (!run.records.some((r) => r.body.type === 'ok')) {
    const web_m = first === undefined ? 0 : Math.min(0, first.web_m ?? 0);
    state = apply(
      state,
      stamp(
        { type: 'ok', web_m, zero_m: null, passed_by: 'before the file', check: null, hold_to: 'aim' },
        first?.at ?? null,
        'program',
      ),
    ).state;
  }
  for (const from of run.records) {
    const fit = admit(state, from.body);
    if (!fit.ok) return fail(`${file}:${from.line}: ${fit.problem.message}`, `${file}:${from.line}`);
    const record = stamp(from.body, from.at, from.by);
    const applied = apply(state, record);
    state = applied.state;
    heard({ state, record, from, found: applied.found });
  }
  return ok(state);
};
