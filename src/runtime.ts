import { existsSync } from 'node:fs';
import type { Axis } from './core/axis.js';
import type { Finding } from './core/finding.js';
import type { CheckId, LogRecord, RecordBody } from './core/record.js';
import { fail, ok, type Result } from './core/result.js';
import { begin } from './core/run/begin.js';
import type { RunState } from './core/run/state.js';
import type { BoardView } from './core/views/board-view.js';
import { chartView } from './core/views/chart.js';
import type { ChartView } from './core/views/chart-view.js';
import { doubtOf } from './core/views/doubt-words.js';
import type { HandoverView } from './core/views/handover-view.js';
import { checkpoints } from './runtime/checkpoints.js';
import { clockSteps, stepWords } from './runtime/clock-steps.js';
import { liveBoard } from './runtime/live-board.js';
import { liveTeller } from './runtime/live-teller.js';
import { type OpenedState, openState } from './runtime/open-state.js';
import { shortReason } from './runtime/short-reason.js';
import { takeRecord } from './runtime/take-record.js';
import { createWriter, type Fact, type SubmitOptions, type Writer } from './runtime/writer.js';
import type { Disk } from './store/disk.js';
import { takeLock, whoHolds } from './store/lock.js';
import { readLog } from './store/read-log.js';
import type { RunLog } from './store/run-log.js';

/** One open run: the only way from a fact to disk, to the judgement, to whoever looks. Owns the clock. */
export type Runtime = {
  readonly folder: string;
  state(): RunState;
  /** Puts a fact on disk, then judges it; refused facts change nothing. Facts are taken one after the other. */
  submit(fact: Fact, options?: SubmitOptions): Promise<Result<LogRecord>>;
  /** What is wrong with the disk now, in words for the operator; null = nothing. */
  trouble(): string | null;
  board(): BoardView;
  chart(station: string, axis: Axis, window: { readonly from_m: number; readonly to_m: number } | null): ChartView;
  doubt(station: string, axis: Axis, mm: number, check?: CheckId): string | null;
  handover(since: string | null, progress?: (share: number) => void): Result<HandoverView>;
  /** For the board: never waits. `whole` false = the log of a long run is still being read; its words are of what the run remembers until then. */
  handoverWords(since: string | null): { readonly view: HandoverView; readonly whole: boolean };
  /** After each record: the record and what it made known. */
  onRecord(heard: (record: LogRecord, found: readonly Finding[]) => void): () => void;
  /** After changes, at most ten times a second. */
  subscribe(changed: () => void): () => void;
  operator(): string;
  setOperator(name: string): void;
  now(): number;
  /** Why it only looks, in words; null = it writes. Whoever holds the run may go, or another come: it is looked after. */
  readonly readOnly: string | null;
  /** Nobody holds the run any more that this one only looked at: it may be taken over. */
  isFree(): boolean;
  /** From looking on to writing, once the run is free. */
  takeOver(): Result<null>;
  /** What was repaired on opening, in words. */
  readonly repaired: string | null;
  /** Writes what can be written; says how many of the sensor's entries the disk never took. */
  close(): Promise<number>;
};

export type OpenOptions = {
  readonly now?: () => number;
  /** A clock that cannot be set, to hold the other against. Default: the system's, when `now` is the system's too. */
  readonly steady?: () => number;
  readonly operator: string;
  /** The first record, when the folder is a new run. */
  readonly first?: RecordBody;
  /** Look only, even when nobody else holds the run. */
  readonly lookOnly?: boolean;
  /** When the folder cannot be written to (read-only, full, no permission), look only, and say why. */
  readonly lookWhenBarred?: boolean;
  /** Tests put a faulty one in its place. */
  readonly disk?: Disk;
  /** Hears how much of a long log has been read, 0 to 1, while the run is worked out of it. */
  readonly progress?: (share: number) => void;
};

const NOTIFY_MS = 100;
const LOOK_MS = 1000;
/** What was repaired on opening is shown so long. */
const SAID_MS = 60_000;

/** Opens the run of a folder: as its one writer, or looking on when somebody else is. */
export const openRun = async (folder: string, options: OpenOptions): Promise<Result<Runtime>> => {
  const now = options.now ?? Date.now;
  let readOnly: string | null = options.lookOnly === true ? 'looking on only' : null;
  let release = (): void => {};
  // Whoever holds the run may end; a disk that cannot be written to stays so.
  let waits = false;
  if (readOnly === null) {
    const lock = takeLock(folder, new Date(now()));
    if (!lock.ok && options.lookWhenBarred !== true) return lock;
    if (!lock.ok) readOnly = `${shortReason(lock.problem)}, then start again`;
    else if (lock.value.held) {
      waits = true;
      readOnly = lock.value.message;
    } else release = lock.value.release;
  }
  const opened = openState(folder, readOnly === null ? 'write' : 'look', options);
  if (!opened.ok) {
    release();
    return opened;
  }
  const { log } = opened.value;
  const leave = <T>(result: T): T => {
    log?.close();
    release();
    return result;
  };
  let { state } = opened.value;
  if (state === null && options.first !== undefined && log !== null) {
    const wrote = await log.append(options.first, { at: iso(now()), by: 'program' });
    if (!wrote.ok) return leave(wrote);
    const begun = begin(wrote.value);
    if (!begun.ok) return leave(begun);
    state = begun.value;
  }
  if (state === null) return leave(fail(`${folder} holds no run: its log is empty`, folder));
  const parts = { now, release, readOnly, waits, disk: options.disk, opened: opened.value, operator: options.operator };
  const runtime = running(folder, state, {
    ...parts,
    steady: options.steady ?? (options.now === undefined ? performance.now.bind(performance) : null),
  });
  await runtime.begun;
  return ok(runtime.runtime);
};

type Parts = {
  readonly now: () => number;
  readonly steady: (() => number) | null;
  readonly release: () => void;
  readonly readOnly: string | null;
  /** Looks on only because the run is held: what it was opened for is to write. */
  readonly waits: boolean;
  readonly disk: Disk | undefined;
  readonly opened: OpenedState;
  readonly operator: string;
};

/** What a run is written with. */
type Pen = {
  readonly log: RunLog;
  readonly writer: Writer;
  readonly kept: ReturnType<typeof checkpoints>;
  readonly release: () => void;
};

const running = (
  folder: string,
  opened: RunState,
  parts: Parts,
): { readonly runtime: Runtime; readonly begun: Promise<unknown> } => {
  const { now } = parts;
  let { readOnly } = parts;
  const steady = parts.steady ?? (() => performance.now());
  let state = opened;
  let operator = parts.operator === '' ? (opened.operator ?? '') : parts.operator;
  let closing: Promise<number> | null = null;
  let notifying: NodeJS.Timeout | null = null;
  let toldAt = 0;
  let toldTrouble: string | null = null;
  const heard = new Set<(record: LogRecord, found: readonly Finding[]) => void>();
  const watching = new Set<() => void>();
  const openedAt = performance.now();
  let { said } = parts.opened;

  const tell = (): void => {
    notifying = null;
    toldAt = performance.now();
    for (const changed of watching) changed();
  };
  const changed = (): void => {
    notifying ??= setTimeout(tell, Math.max(0, NOTIFY_MS - (performance.now() - toldAt)));
  };
  const teller = liveTeller(folder, changed);
  const board = liveBoard(now);
  const took = (record: LogRecord, next: RunState, found: readonly Finding[]): void => {
    state = next;
    teller.took(record, next, found);
    for (const listener of heard) listener(record, found);
    changed();
  };

  const penOf = ({ log, chain }: OpenedState, from: RunState, release: () => void): Pen | null => {
    if (log === null) return null;
    const kept = checkpoints(folder, chain);
    const writer = createWriter({
      folder,
      log,
      opened: from,
      steady: () => performance.now(),
      published: (record, next, found, place) => {
        took(record, next, found);
        kept.after(next, place);
      },
    });
    // A run that took long to judge is spared that the next time, even if this time ends with the power.
    kept.after(from, log.place());
    return { log, writer, kept, release };
  };
  let pen = penOf(parts.opened, opened, parts.release);

  const steps = clockSteps(now, steady);
  const submit: Runtime['submit'] = async (body, options = {}) => {
    if (pen === null) return fail(`This run is ${readOnly ?? 'closed'}; here it can only be looked at.`);
    if (closing !== null) return fail('The program is closing; nothing was written.');
    watchClock();
    const by = options.by ?? operator;
    return pen.writer.submit(body, { ...options, at: options.at ?? iso(now()), by: by === '' ? 'operator' : by });
  };

  /** A clock that was set is an entry of its own: what is carried on by the clock is put right there, and the report says so. */
  const noteClock = (by_ms: number): Promise<unknown> => {
    if (pen === null || state.judged.phase === 'ended') return Promise.resolve();
    const text = stepWords(by_ms, now(), state.time_zone);
    const note: RecordBody = { type: 'note', web_m: null, text, clock_ms: by_ms };
    return pen.writer.submit(note, { at: iso(now()), by: 'program', keep: true });
  };
  const watchClock = (): void => {
    const by_ms = parts.steady === null ? null : steps.step();
    if (by_ms !== null) void noteClock(by_ms);
  };
  const behind = parts.steady === null ? 0 : now() - opened.judged.web.base_ms;
  const begun = behind < -BEHIND_MS ? noteClock(behind) : Promise.resolve();

  // Somebody else writes: their records are read as they come.
  let place = parts.opened.place;
  const catchUp = (): void => {
    const read = readLog(
      folder,
      (record) => {
        if (record.seq !== state.seq + 1) return;
        const { state: next, found } = takeRecord(folder, state, record);
        took(record, next, found);
      },
      place,
    );
    if (read.ok) place = read.value.place;
  };
  let free = false;
  /** Whoever holds the run may have ended, or another may hold it by now. */
  const lookAfter = (): void => {
    if (pen !== null || !parts.waits) return;
    const holder = whoHolds(folder);
    const words = holder ?? FREE;
    if (words === readOnly || (holder === null && !existsSync(folder))) return;
    free = holder === null;
    readOnly = words;
    changed();
  };
  const takeOver = (): Result<null> => {
    if (pen !== null) return ok(null);
    if (closing !== null) return fail('The program is closing.');
    const lock = takeLock(folder, new Date(now()));
    if (!lock.ok) return lock;
    if (lock.value.held) {
      lookAfter();
      return fail(`The run is ${lock.value.message}`);
    }
    // What the other wrote last, told like all before; then nobody writes but this one.
    catchUp();
    const anew = openState(folder, 'write', parts.disk === undefined ? {} : { disk: parts.disk });
    if (!anew.ok || anew.value.state === null || anew.value.log === null) {
      lock.value.release();
      return anew.ok ? fail(`${folder} holds no run: its log is empty`, folder) : anew;
    }
    state = anew.value.state;
    said = anew.value.said;
    pen = penOf(anew.value, state, lock.value.release);
    readOnly = null;
    free = false;
    changed();
    return ok(null);
  };
  const every = setInterval(() => {
    if (pen === null) {
      catchUp();
      lookAfter();
    }
    watchClock();
    pen?.writer.retry();
    const wrong = trouble();
    // The web runs on between records, and so does trouble: the board shows where it is.
    if (state.judged.web.running || wrong !== toldTrouble) changed();
    toldTrouble = wrong;
  }, LOOK_MS);
  every.unref();

  const trouble = (): string | null => {
    return pen?.writer.trouble() ?? (performance.now() - openedAt < SAID_MS ? said : null);
  };

  const close = async (): Promise<number> => {
    const unsaved = (await pen?.writer.finish()) ?? 0;
    if (notifying !== null) clearTimeout(notifying);
    clearInterval(every);
    teller.stop();
    pen?.log.close();
    pen?.kept.last();
    pen?.release();
    return unsaved;
  };

  const runtime: Runtime = {
    folder,
    get readOnly() {
      return readOnly;
    },
    isFree: () => free,
    takeOver,
    repaired: parts.opened.said,
    state: () => state,
    submit,
    trouble,
    board: () => board(state, trouble()),
    chart: (station, axis, window) => chartView(state, station, axis, window),
    doubt: (station, axis, mm, check) => doubtOf(state, station, axis, mm, check),
    handover: (since, progress) => teller.handover(now(), since, progress),
    handoverWords: (since) => teller.words(state, now(), since),
    onRecord: (listener) => {
      heard.add(listener);
      return () => heard.delete(listener);
    },
    subscribe: (listener) => {
      watching.add(listener);
      return () => watching.delete(listener);
    },
    operator: () => operator,
    setOperator: (name) => {
      operator = name;
    },
    now,
    close: () => {
      closing ??= close();
      return closing;
    },
  };
  return { runtime, begun };
};

const FREE = 'whoever held the run has ended. Key any act (p, c, k): it is taken over';

/** A clock this far behind the last entry was set back while the program was closed. */
const BEHIND_MS = 2000;

const iso = (ms: number): string => new Date(ms).toISOString();
