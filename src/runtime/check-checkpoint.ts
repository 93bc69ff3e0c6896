import type { LogRecord } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { dropCheckpoint, readCheckpoint } from '../store/checkpoint.js';
import { programMark } from '../store/program-mark.js';
import { readLog } from '../store/read-log.js';
import { takeRecord } from './take-record.js';

/**
 * The full check of a run's checkpoint: the log is judged anew from its first record up to there, and the state must be the very same. One that differs,
 * or does not fit the log, is thrown away. Costs what opening without it costs. null = there is none.
 */
export const checkCheckpoint = (folder: string): Result<string | null> => {
  const found = readCheckpoint(folder, programMark());
  if (!found.ok) {
    dropCheckpoint(folder);
    return ok(found.problem.message);
  }
  if (found.value === null) return ok(null);
  const { chain, state: kept } = found.value;
  let state: RunState | null = null;
  const read = readLog(folder, (record: LogRecord) => {
    if (record.seq > chain.place.seq) return;
    if (state !== null) state = takeRecord(folder, state, record).state;
    else {
      const begun = begin(record);
      if (begun.ok) state = begun.value;
    }
  });
  if (!read.ok) return read;
  if (JSON.stringify(state) === JSON.stringify(kept)) return ok(`its checkpoint at entry ${chain.place.seq} is right`);
  dropCheckpoint(folder);
  return ok(`its checkpoint at entry ${chain.place.seq} was wrong and was thrown away; the log is the truth`);
};
