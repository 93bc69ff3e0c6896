import { type LogRecord, RECORD_VERSION, type RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { admit } from '../core/run/admit.js';
import { apply } from '../core/run/apply.js';
import { begin } from '../core/run/begin.js';
import { reachesBack, refold } from '../core/run/refold.js';
import type { RunState } from '../core/run/state.js';
import { logBatches } from '../store/read-log.js';
import { withoutControls } from './without-controls.js';
import { numbered } from './writer.js';

/** An entry that a file brings: when, whose, and from which of its lines. */
export type FileEntry = {
  readonly body: RecordBody;
  readonly at: string;
  readonly by: string;
  readonly line: number;
};

export type Folded = { readonly records: readonly LogRecord[]; readonly state: RunState };

/**
 * Entries of a file judged one after the other on what a run knows, as if they were keyed; nothing is written, so that the first one that is refused leaves
 * everything as it was. `state` null: the first entry begins the run.
 */
export const foldIn = (folder: string, opened: RunState | null, entries: readonly FileEntry[]): Result<Folded> => {
  let state = opened;
  const records: LogRecord[] = [];
  function* all(): Generator<LogRecord> {
    if (opened !== null) for (const batch of logBatches(folder)) yield* batch.records;
    yield* records;
  }
  for (const entry of entries) {
    const { at, line } = entry;
    const by = withoutControls(entry.by);
    const body = state === null ? entry.body : numbered(withoutControls(entry.body), state);
    const fit = state === null ? ok(null) : admit(state, body, by);
    if (!fit.ok) return fail(`line ${line}: ${fit.problem.message}`);
    const record: LogRecord = { v: RECORD_VERSION, seq: (state?.seq ?? 0) + 1, at, by, ...body };
    if (state === null) {
      const begun = begin(record);
      if (!begun.ok) return begun;
      state = begun.value;
    } else state = (reachesBack(state, record) ? refold(state, record, all) : apply(state, record)).state;
    records.push(record);
  }
  return state === null ? fail('there is nothing to write') : ok({ records, state });
};
