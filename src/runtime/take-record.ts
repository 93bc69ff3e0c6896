import type { LogRecord } from '../core/record.js';
import { type Applied, apply } from '../core/run/apply.js';
import { reachesBack, refold } from '../core/run/refold.js';
import type { RunState } from '../core/run/state.js';
import { logBatches } from '../store/read-log.js';

/** One record on a state, wherever it is folded: what reaches back further than the state remembers is judged anew from the log. */
export const takeRecord = (folder: string, state: RunState, record: LogRecord): Applied =>
  reachesBack(state, record) ? refold(state, record, () => recordsOf(folder)) : apply(state, record);

function* recordsOf(folder: string): Generator<LogRecord> {
  for (const batch of logBatches(folder)) yield* batch.records;
}
