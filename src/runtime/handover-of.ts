import type { Finding } from '../core/finding.js';
import type { LogRecord } from '../core/record.js';
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

/** Tells the handover of an open run again and again: the log is folded when it is first asked for, then each record is heard as it comes. */
export type LiveTeller = {
  took(record: LogRecord, next: RunState, found: readonly Finding[]): void;
  handover(at_ms: number, since: string | null): Result<HandoverView>;
};

export const liveTeller = (folder: string): LiveTeller => {
  let told: Told | null = null;
  return {
    took: (record, next, found) => {
      // What the fold has read from disk already is not heard twice.
      if (told === null || record.seq <= told.state.seq) return;
      if (record.seq !== told.state.seq + 1) {
        told = null;
        return;
      }
      told.teller.take(record, told.state, next, found);
      told = { teller: told.teller, state: next };
    },
    handover: (at_ms, since) => {
      if (told === null) {
        const folded = tellRun(folder);
        if (!folded.ok) return folded;
        told = folded.value;
      }
      return ok(told.teller.view(told.state, at_ms, since));
    },
  };
};

type Told = { readonly teller: RunTeller; readonly state: RunState };

const tellRun = (folder: string): Result<Told> => {
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
