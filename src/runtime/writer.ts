import type { Finding } from '../core/finding.js';
import { type LogRecord, RECORD_VERSION, type RecordBody } from '../core/record.js';
import { fail, type Problem, type Result } from '../core/result.js';
import { admit } from '../core/run/admit.js';
import type { RunState } from '../core/run/state.js';
import type { LogPlace } from '../store/read-log.js';
import type { RunLog } from '../store/run-log.js';
import { shortReason } from './short-reason.js';
import { takeRecord } from './take-record.js';
import { withoutControls } from './without-controls.js';

export type Fact = RecordBody | ((state: RunState) => RecordBody);

export type SubmitOptions = {
  readonly by?: string;
  /** Shares a sync with others of the next moment; for sensors. */
  readonly soon?: boolean;
  readonly at?: string;
  /** Nobody has it before him to enter it again: when the disk refuses it, it is kept in memory and written when the disk can. */
  readonly keep?: boolean;
};

/** The way from a fact to disk: one after the other, judged ahead, shown only once it is durable. */
export type Writer = {
  submit(fact: Fact, options: SubmitOptions & { readonly by: string; readonly at: string }): Promise<Result<LogRecord>>;
  /** Tries again to write what is kept. */
  retry(): void;
  /** What is wrong with writing now, in words for the operator; null = nothing. */
  trouble(): string | null;
  /** All that was submitted is settled, one last time tried; then says how many facts the disk never took. */
  finish(): Promise<number>;
};

export type WriterParts = {
  readonly folder: string;
  readonly log: RunLog;
  readonly opened: RunState;
  /** A record that is on disk, the state with it, and where the log stands behind it. */
  readonly published: (record: LogRecord, state: RunState, found: readonly Finding[], place: LogPlace) => void;
  /** Milliseconds that only run. */
  readonly steady: () => number;
};

type Kept = {
  readonly fact: Fact;
  readonly by: string;
  readonly at: string;
  readonly soon: boolean;
  /** Counts what was submitted: what was made first is written first, whenever it failed. */
  readonly turn: number;
};

/** A sensor makes a check in about two seconds: this is some hours of a full disk, and some ten megabytes. */
const KEPT_AT_MOST = 5000;
const SLOW_MS = 2000;

export const createWriter = ({ folder, log, opened, published, steady }: WriterParts): Writer => {
  /** With all that is on disk: the one that is shown. */
  let state = opened;
  /** With all that is on its way there too: the one the next fact is held against. */
  let ahead = opened;
  let queue: Promise<unknown> = Promise.resolve();
  /** Appends under way, and since when. */
  const inFlight = new Map<Promise<unknown>, number>();
  const kept: Kept[] = [];
  let neverKept = 0;
  let turns = 0;
  let lastTrouble: { readonly problem: Problem; readonly at: string } | null = null;
  let retrying = false;

  /** Something that was under way failed: what comes next is judged without it, and after what of it is kept. */
  const takeStock = async (): Promise<void> => {
    if (log.lastSeq() === ahead.seq) return;
    await Promise.all(inFlight.keys());
    ahead = state;
  };

  /** Judges and hands to the log; answers as soon as the next fact may follow. */
  const write = async (one: Kept, keepFailed: boolean): Promise<Written> => {
    const { fact, by, at, soon } = one;
    await takeStock();
    const body = numbered(withoutControls(typeof fact === 'function' ? fact(ahead) : fact), ahead);
    const fit = admit(ahead, body, by);
    if (!fit.ok) return { refused: fit };
    const record: LogRecord = { v: RECORD_VERSION, seq: ahead.seq + 1, at, by, ...body };
    // Judged before it is written: an entry that the program cannot judge must not come to stand in the log.
    const { state: next, found } = takeRecord(folder, ahead, record);
    const appended = log.append(body, { at, by }, soon ? 'soon' : 'now');
    const place = log.place();
    ahead = next;
    // The log refuses in words; should it ever throw, the entry is refused all the same, and the next one can be written.
    const settled = appended.catch((error: unknown): Result<never> => fail(String(error), undefined, 'machine'));
    const durable = settled.then((wrote) => {
      inFlight.delete(durable);
      if (!wrote.ok) {
        lastTrouble = { problem: wrote.problem, at };
        if (keepFailed) keep(one);
      } else {
        state = next;
        lastTrouble = null;
        published(wrote.value, next, found, place);
      }
      return wrote;
    });
    inFlight.set(durable, steady());
    return { durable };
  };

  const keep = (fact: Kept): void => {
    if (kept.length >= KEPT_AT_MOST) {
      kept.shift();
      neverKept += 1;
    }
    const later = kept.findIndex(({ turn }) => turn > fact.turn);
    kept.splice(later < 0 ? kept.length : later, 0, fact);
  };

  /** The oldest first, until one is not taken. What the run itself refuses by now (it has ended) is let go, and counted. */
  const drain = async (): Promise<void> => {
    for (let first = kept[0]; first !== undefined; first = kept[0]) {
      const written = await write(first, false);
      if ('durable' in written && !(await written.durable).ok) return;
      if ('refused' in written) neverKept += 1;
      kept.shift();
    }
  };

  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const next = queue.then(work);
    queue = next.catch(() => undefined);
    return next;
  };

  const submit: Writer['submit'] = async (fact, { by, at, soon = false, keep: mayWait = false }) => {
    turns += 1;
    const one = { fact, by: withoutControls(by), at, soon, turn: turns };
    const written = await inTurn(async (): Promise<Written> => {
      await takeStock();
      if (kept.length > 0) await drain();
      if (kept.length > 0) {
        if (mayWait) keep(one);
        const nothing = fail('the disk takes nothing', undefined, 'machine');
        return { refused: lastTrouble === null ? nothing : { ok: false, problem: lastTrouble.problem } };
      }
      try {
        return await write(one, mayWait);
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        return {
          refused: fail(`the program could not judge this entry, so it was not written (${why})`, undefined, 'machine'),
        };
      }
    });
    if ('refused' in written) return written.refused;
    return written.durable;
  };

  const retry = (): void => {
    if (kept.length === 0 || retrying) return;
    retrying = true;
    void inTurn(drain).finally(() => {
      retrying = false;
    });
  };

  const trouble = (): string | null => {
    const why = lastTrouble === null ? '' : shortReason(lastTrouble.problem);
    if (kept.length > 0) {
      const waiting = kept.length === 1 ? '1 sensor entry waits' : `${kept.length} sensor entries wait`;
      return `NOT SAVED, ${waiting}${neverKept === 0 ? '' : `, ${neverKept} are lost`}: ${why}`;
    }
    if (lastTrouble !== null) return `LAST ENTRY NOT SAVED, ${timeOf(lastTrouble.at, opened.time_zone)}: ${why}`;
    const [oldest] = inFlight.values();
    return oldest !== undefined && steady() - oldest > SLOW_MS
      ? `NOT SAVED YET: the disk has been writing for ${Math.round((steady() - oldest) / 1000)} s`
      : null;
  };

  return {
    submit,
    retry,
    trouble,
    finish: async () => {
      await inTurn(drain);
      await Promise.all(inFlight.keys());
      return kept.length + neverKept;
    },
  };
};

/** A sensor's check may have taken the number that a pull was to have: the pull gets the next one. Only what is written is said. */
export const numbered = (body: RecordBody, state: RunState): RecordBody =>
  body.type === 'pull' && typeof body.check === 'number' && body.check < state.next_check
    ? { ...body, check: state.next_check }
    : body;

type Written = { readonly refused: Result<never> } | { readonly durable: Promise<Result<LogRecord>> };

const timeOf = (at: string, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(
    new Date(at),
  );
