import { fail, ok, type Result } from '../core/result.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { type RunTeller, runTeller } from '../core/views/run-teller.js';
import { readLog } from '../store/read-log.js';
import { withPaper } from './paper-of.js';
import { takeRecord } from './take-record.js';

/** The handover is told from the log itself, not from what a long run still remembers. */
export const handoverOf = (folder: string, at_ms: number, since: string | null): Result<HandoverView> => {
  const told = tellRun(folder);
  if (!told.ok) return told;
  const { teller, state } = told.value;
  return withPaper(folder, teller.view(state, at_ms, since), state.seq);
};

/** A handover that was signed, as it was then: told from the entries up to its signature, at its time. */
export const signedHandoverOf = (folder: string, number: number, since: string | null): Result<HandoverView> => {
  const now = tellRun(folder);
  if (!now.ok) return now;
  const signed = now.value.teller.words(now.value.state, 0, null).signed ?? [];
  const own = signed.find((one) => one.number === number);
  if (own === undefined)
    return fail(
      signed.length === 0
        ? `no handover of run ${now.value.state.run} was signed yet`
        : `run ${now.value.state.run} has ${signed.length} signed ${signed.length === 1 ? 'handover' : 'handovers'}; there is no number ${number}`,
    );
  const then = tellRun(folder, own.seq);
  if (!then.ok) return then;
  const { teller, state } = then.value;
  return withPaper(folder, teller.view(state, Date.parse(own.at), since), state.seq);
};

/** A run told up to its last record. */
export type Told = { readonly teller: RunTeller; readonly state: RunState };

/** `upto`: no entry after this one is taken. */
export const tellRun = (folder: string, upto = Number.POSITIVE_INFINITY): Result<Told> => {
  const teller = runTeller();
  let state: RunState | null = null;
  const read = readLog(folder, (record) => {
    if (record.seq > upto) return;
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
