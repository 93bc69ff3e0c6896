import { setTimeout as wait } from 'node:timers/promises';
import type { Finding } from '../core/finding.js';
import type { LogRecord } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { nothingGathered } from '../core/views/gather.js';
import { handoverView } from '../core/views/handover.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { runTeller } from '../core/views/run-teller.js';
import { LOG_START, logBatches } from '../store/read-log.js';
import { type Told, tellRun } from './handover-of.js';
import { takeRecord } from './take-record.js';

/** Tells the handover of an open run again and again: the log is folded when it is first asked for, then each record is heard as it comes. */
export type LiveTeller = {
  took(record: LogRecord, next: RunState, found: readonly Finding[]): void;
  /** All of it, with charts; folds the whole log now if that was not done yet. */
  handover(at_ms: number, since: string | null): Result<HandoverView>;
  /** Without charts, and without waiting: of a long run first what its state remembers, while the log is folded between keystrokes. */
  words(state: RunState, at_ms: number, since: string | null): { readonly view: HandoverView; readonly whole: boolean };
  stop(): void;
};

/** A run of no more records is folded at once: that takes about a second. */
const AT_ONCE = 2000;
const SLICE_MS = 12;
const REST_MS = 30;

/** `ready`: called when a fold in the background has come to its end. */
export const liveTeller = (folder: string, ready: () => void): LiveTeller => {
  let told: Told | null = null;
  let folding = false;
  let stopped = false;
  let last = 0;

  /** The log from its beginning, a slice at a time, until no record is left that came meanwhile. */
  const fold = async (): Promise<void> => {
    const teller = runTeller();
    let state: RunState | null = null;
    let place = LOG_START;
    let since = performance.now();
    const take = (record: LogRecord): void => {
      const before: RunState | null = state;
      if (before === null) {
        const begun = begin(record);
        if (!begun.ok) return;
        state = begun.value;
        teller.take(record, null, state, []);
        return;
      }
      const applied = takeRecord(folder, before, record);
      state = applied.state;
      teller.take(record, before, state, applied.found);
    };
    const upTo = (): number => (state as RunState | null)?.seq ?? 0;
    do {
      const batches = logBatches(folder, place);
      for (;;) {
        const step = batches.next();
        if (step.done === true) {
          if (!step.value.ok) return;
          place = step.value.value.place;
          break;
        }
        for (const record of step.value) {
          if (told !== null) return;
          take(record);
          if (performance.now() - since < SLICE_MS) continue;
          await wait(REST_MS, undefined, { ref: false });
          if (stopped) return;
          since = performance.now();
        }
      }
    } while (upTo() < last);
    if (told === null && state !== null) told = { teller, state };
    ready();
  };

  return {
    took: (record, next, found) => {
      last = record.seq;
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
    words: (state, at_ms, since) => {
      if (told === null && !folding && state.seq <= AT_ONCE) {
        const folded = tellRun(folder);
        if (folded.ok) told = folded.value;
      }
      if (told !== null) return { view: told.teller.words(told.state, at_ms, since), whole: true };
      if (!folding) {
        folding = true;
        last = Math.max(last, state.seq);
        void fold().finally(() => {
          folding = false;
        });
      }
      return { view: handoverView(state, nothingGathered, at_ms, since), whole: false };
    },
    stop: () => {
      stopped = true;
    },
  };
};
