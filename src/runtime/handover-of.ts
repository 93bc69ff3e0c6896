import { fail, ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { type RunTeller, runTeller } from '../core/views/run-teller.js';
import { readLog } from '../store/read-log.js';
import { takeRecord } from './take-record.js';

/** The handover is told from the log itself, not from what a long run still remembers. */
export const handoverOf = (folder: string, at_ms: number, since: string | null): Result<HandoverView> => {
  const told = tellRun(folder);
  return told.ok ? ok(told.value.teller.view(told.value.state, at_ms, since)) : told;
};

/** A run told up to its last record. */
export type Told = { readonly teller: RunTeller; readonly state: RunState };

export const tellRun = (folder: string): Result<Told> => {
  const teller = runTeller();
  let state: RunState | null = null;
  const read = readLog(folder, (record) => {
    if (state === null) {
      const begun = begin(record);
      if (!begun.ok) return;
      state = begun.value;
      teller.take(record, null, state, []);
      return;
    }
    const before = state;
    const applied = takeRecord(folder, before, record);
    state = applied.state;
    teller.take(record, before, state, applied.found);
  });
  if (!read.ok) return read;
  return state === null ? fail(`${folder} holds no run`, folder) : ok({ teller, state });
};
