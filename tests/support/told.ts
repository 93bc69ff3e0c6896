import type { LogRecord } from '../../src/core/record.js';
import { apply } from '../../src/core/run/apply.js';
import { begin } from '../../src/core/run/begin.js';
import type { RunState } from '../../src/core/run/state.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';
import { type RunTeller, runTeller } from '../../src/core/views/run-teller.js';

/** The handover of these records, through the real fold; told at `at_ms`, or at the last of them. */
export const told = (records: readonly LogRecord[], since: string | null = null, at_ms?: number): HandoverView => {
  const { teller, state } = tell(records);
  return teller.view(state, at_ms ?? lastAt(records), since);
};

/** All of these records heard, and the state after the last of them. */
export const tell = (records: readonly LogRecord[]): { readonly teller: RunTeller; readonly state: RunState } => {
  const teller = runTeller();
  let state: RunState | null = null;
  for (const record of records) {
    if (state === null) {
      const begun = begin(record);
      if (!begun.ok) throw new Error(begun.problem.message);
      state = begun.value;
      teller.take(record, null, state, []);
      continue;
    }
    const applied = apply(state, record);
    teller.take(record, state, applied.state, applied.found);
    state = applied.state;
  }
  if (state === null) throw new Error('no records');
  return { teller, state };
};

export const lastAt = (records: readonly LogRecord[]): number => Date.parse(records.at(-1)?.at ?? '');
