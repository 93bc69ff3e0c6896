import type { Axis } from './core/axis.js';
import type { Finding } from './core/finding.js';
import type { LogRecord, RecordBody } from './core/record.js';
import { fail, ok, type Result } from './core/result.js';
import { admit } from './core/run/admit.js';
import { apply } from './core/run/apply.js';
import { begin } from './core/run/begin.js';
import type { RunState } from './core/run/state.js';
import { boardView } from './core/views/board.js';
import type { BoardView } from './core/views/board-view.js';
import { chartView } from './core/views/chart.js';
import type { ChartView } from './core/views/chart-view.js';
import { doubtOf } from './core/views/doubt-words.js';
import { gather, handoverView, nothingGathered } from './core/views/handover.js';
import type { HandoverView } from './core/views/handover-view.js';
import { takeLock } from './store/lock.js';
import { readLog } from './store/read-log.js';
import { openRunLog, type RunLog } from './store/run-log.js';

/** One open run: the only way from a fact to disk, to the judgement, to whoever looks. Owns the clock. */
export type Runtime = {
  readonly folder: string;
  state(): RunState;
  /** Puts a fact on disk, then judges it; refused facts change nothing. Facts are taken one after the other. */
  submit(
    body: RecordBody | ((state: RunState) => RecordBody),
    options?: { readonly by?: string; readonly soon?: boolean; readonly at?: string },
  ): Promise<Result<LogRecord>>;
  board(): BoardView;
  chart(station: string, axis: Axis, window: { readonly from_m: number; readonly to_m: number } | null): ChartView;
  doubt(station: string, axis: Axis, mm: number): string | null;
  handover(since: string | null): Result<HandoverView>;
  /** After each record: the record and what it made known. */
  onRecord(heard: (record: LogRecord, found: readonly Finding[]) => void): () => void;
  /** After changes, at most ten times a second. */
  subscribe(changed: () => void): () => void;
  operator(): string;
  setOperator(name: string): void;
  now(): number;
  readonly readOnly: string | null;
  /** What was repaired on opening, in words. */
  readonly repaired: string | null;
  close(): Promise<void>;
};

export type OpenOptions = {
  readonly now?: () => number;
  readonly operator: string;
  /** The first record, when the folder is a new run. */
  readonly first?: RecordBody;
  /** Look only, even when nobody else holds the run. */
  readonly lookOnly?: boolean;
};

const NOTIFY_MS = 100;
const LOOK_MS = 1000;

/** Opens the run of a folder: as its one writer, or looking on when somebody else is. */
export const openRun = async (folder: string, options: OpenOptions): Promise<Result<Runtime>> => {
  const now = options.now ?? Date.now;
  let state: RunState | null = null;
  let broken: string | null = null;
  const take = (record: LogRecord): void => {
    if (state !== null) state = apply(state, record).state;
    else {
      const begun = begin(record);
      if (begun.ok) state = begun.value;
      else broken = begun.problem.message;
    }
  };
  let readOnly: string | null = null;
  let release = (): void => {};
  let log: RunLog | null = null;
  let repaired: string | null = null;
  if (options.lookOnly !== true) {
    const lock = takeLock(folder, new Date(now()));
    if (!lock.ok) return lock;
    if (lock.value.held) readOnly = lock.value.message;
    else release = lock.value.release;
  } else readOnly = 'looking on only';
  if (readOnly === null) {
    const opened = openRunLog(folder, take);
    if (!opened.ok) {
      release();
      return opened;
    }
    log = opened.value.log;
    repaired = opened.value.repaired;
  } else {
    const read = readLog(folder, take);
    if (!read.ok) return read;
  }
  const leave = async (): Promise<void> => {
    log?.close();
    release();
  };
  if (state === null && broken === null && options.first !== undefined && log !== null) {
    const wrote = await log.append(options.first, { at: iso(now()), by: 'program' });
    if (!wrote.ok) {
      await leave();
      return wrote;
    }
    take(wrote.value);
  }
  if (state === null) {
    await leave();
    return fail(broken ?? `${folder} holds no run: its log is empty`, folder);
  }
  return ok(running(folder, state, { now, log, release, readOnly, repaired, operator: options.operator }));
};

type Parts = {
  readonly now: () => number;
  readonly log: RunLog | null;
  readonly release: () => void;
  readonly readOnly: string | null;
  readonly repaired: string | null;
  readonly operator: string;
};

const running = (folder: string, opened: RunState, parts: Parts): Runtime => {
  const { now, log, readOnly } = parts;
  let state = opened;
  let operator = parts.operator === '' ? (opened.operator ?? '') : parts.operator;
  let view: { readonly at: number; readonly state: RunState; readonly board: BoardView } | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  let closed = false;
  let notifying: NodeJS.Timeout | null = null;
  let toldAt = 0;
  const heard = new Set<(record: LogRecord, found: readonly Finding[]) => void>();
  const watching = new Set<() => void>();

  const tell = (): void => {
    notifying = null;
    toldAt = performance.now();
    for (const changed of watching) changed();
  };
  const changed = (): void => {
    notifying ??= setTimeout(tell, Math.max(0, NOTIFY_MS - (performance.now() - toldAt)));
  };
  const took = (record: LogRecord): void => {
    const applied = apply(state, record);
    state = applied.state;
    for (const listener of heard) listener(record, applied.found);
    changed();
  };

  const submit: Runtime['submit'] = (body, { by, soon, at } = {}) => {
    const next = queue.then(async (): Promise<Result<LogRecord>> => {
      if (log === null) return fail(`This run is ${readOnly ?? 'closed'}; here it can only be looked at.`);
      if (closed) return fail('The program is closing; nothing was written.');
      const fact = typeof body === 'function' ? body(state) : body;
      const fit = admit(state, fact);
      if (!fit.ok) return fit;
      const name = by ?? operator;
      const wrote = await log.append(
        fact,
        { at: at ?? iso(now()), by: name === '' ? 'operator' : name },
        soon === true ? 'soon' : 'now',
      );
      if (wrote.ok) took(wrote.value);
      return wrote;
    });
    queue = next.catch(() => undefined);
    return next;
  };

  // Somebody else writes: their records are read as they come.
  const look = readOnly === null ? null : setInterval(() => catchUp(), LOOK_MS);
  const catchUp = (): void => {
    const before = state.seq;
    readLog(folder, (record) => {
      if (record.seq > before && record.seq === state.seq + 1) took(record);
    });
  };
  // The web runs on between records; the board shows where it is.
  const clock = setInterval(() => {
    if (state.judged.web.running) changed();
  }, LOOK_MS);
  look?.unref();
  clock.unref();

  const board = (): BoardView => {
    const second = Math.floor(now() / 1000);
    if (
      view === null ||
      view.state !== state ||
      (view.at !== second && (state.judged.web.running || state.judged.ok !== null))
    )
      view = { at: second, state, board: boardView(state, now()) };
    return view.board;
  };

  return {
    folder,
    readOnly,
    repaired: parts.repaired,
    state: () => state,
    submit,
    board,
    chart: (station, axis, window) => chartView(state, station, axis, window),
    doubt: (station, axis, mm) => doubtOf(state, station, axis, mm),
    handover: (since) => handoverOf(folder, now(), since),
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
    close: async () => {
      if (closed) return;
      await queue;
      closed = true;
      if (notifying !== null) clearTimeout(notifying);
      if (look !== null) clearInterval(look);
      clearInterval(clock);
      log?.close();
      parts.release();
    },
  };
};

/** The handover is told from the log itself, not from what a long run still remembers. */
export const handoverOf = (folder: string, at_ms: number, since: string | null): Result<HandoverView> => {
  let state: RunState | null = null;
  let gathered = nothingGathered;
  const read = readLog(folder, (record) => {
    if (state === null) {
      const begun = begin(record);
      if (begun.ok) state = begun.value;
      gathered = gather(gathered, record, []);
      return;
    }
    const applied = apply(state, record);
    state = applied.state;
    gathered = gather(gathered, record, applied.found);
  });
  if (!read.ok) return read;
  return state === null ? fail(`${folder} holds no run`, folder) : ok(handoverView(state, gathered, at_ms, since));
};

const iso = (ms: number): string => new Date(ms).toISOString();
