import { fail, ok, type Result } from '../core/result.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { logShare } from '../store/log-share.js';
import { readLog } from '../store/read-log.js';
import { withPaper } from './paper-of.js';
import { type Told, telling } from './telling.js';

export type HandoverAsked = {
  /** ISO; null = since the run began. */
  readonly since: string | null;
  /** false: no charts are made, which is most of the memory of a long run. */
  readonly charts?: boolean;
  /** Hears how much of the log has been read, 0 to 1. */
  readonly progress?: (share: number) => void;
};

/** The handover is told from the log itself, not from what a long run still remembers. */
export const handoverOf = (
  folder: string,
  at_ms: number,
  { since, charts = true, progress }: HandoverAsked,
): Result<HandoverView> => {
  const told = tellRun(folder, undefined, progress);
  if (!told.ok) return told;
  const { teller, state } = told.value;
  return withPaper(folder, teller.view(state, at_ms, since, charts), state.seq);
};

/** A handover that was signed, as it was then: told from the entries up to its signature, at its time. */
export const signedHandoverOf = (
  folder: string,
  number: number,
  { since, charts = true, progress }: HandoverAsked,
): Result<HandoverView> => {
  const now = tellRun(folder, undefined, progress);
  if (!now.ok) return now;
  const signed = now.value.teller.words(now.value.state, 0, null).signed ?? [];
  const own = signed.find((one) => one.number === number);
  if (own === undefined)
    return fail(
      signed.length === 0
        ? `no handover of run ${now.value.state.run} was signed yet`
        : `run ${now.value.state.run} has ${signed.length} signed ${signed.length === 1 ? 'handover' : 'handovers'}; there is no number ${number}`,
    );
  const then = tellRun(folder, own.seq, progress);
  if (!then.ok) return then;
  const { teller, state } = then.value;
  return withPaper(folder, teller.view(state, Date.parse(own.at), since, charts), state.seq);
};

/** `upto`: no entry after this one is taken. `progress` hears how much of the log has been read, 0 to 1. */
export const tellRun = (
  folder: string,
  upto = Number.POSITIVE_INFINITY,
  progress?: (share: number) => void,
): Result<Told> => {
  const run = telling(folder, upto);
  const share = progress === undefined ? null : logShare(folder);
  const read = readLog(folder, run.take, run.from, (place) => {
    if (share !== null) progress?.(share(place));
  });
  if (!read.ok) return read;
  run.keep(read.value.place);
  const told = run.told();
  return told === null ? fail(`${folder} holds no run`, folder) : ok(told);
};
