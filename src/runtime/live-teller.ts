import { setTimeout as wait } from 'node:timers/promises';
import type { Finding } from '../core/finding.js';
import type { LogRecord } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import type { RunState } from '../core/run/state.js';
import { nothingGathered } from '../core/views/gather.js';
import { handoverView } from '../core/views/handover.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { logBatches } from '../store/read-log.js';
import { tellRun } from './handover-of.js';
import { type Told, telling } from './telling.js';

/** Tells the handover of an open run again and again: the log is folded when it is first asked for, then each record is heard as it comes. */
export type LiveTeller = {
  took(record: LogRecord, next: RunState, found: readonly Finding[]): void;
  /** All of it, with charts; folds the whole log now if that was not done yet. */
  handover(at_ms: number, since: string | null, progress?: (share: number) => void): Result<HandoverView>;
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
    const run = telling(folder);
    let place = run.from;
    let since = performance.now();
    do {
      const batches = logBatches(folder, place);
      for (;;) {
        const step = batches.next();
        if (step.done === true) {
          if (!step.value.ok) return;
          place = step.value.value.place;
          break;
        }
        for (const record of step.value.records) {
          if (told !== null) return;
          run.take(record);
          if (performance.now() - since < SLICE_MS) continue;
          await wait(REST_MS, undefined, { ref: false });
          if (stopped) return;
          since = performance.now();
        }
      }
    } while ((run.told()?.state.seq ?? 0) < last);
    run.keep(place);
    told ??= run.told();
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
    handover: (at_ms, since, progress) => {
      if (told === null) {
        const folded = tellRun(folder, undefined, progress);
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
