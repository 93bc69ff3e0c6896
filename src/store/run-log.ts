import { type LogRecord, RECORD_VERSION, type RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { type Disk, realDisk } from './disk.js';
import { writeProblem } from './disk-problem.js';
import { encodeChained } from './frame.js';
import { type LogEnd, type LogPlace, readLog } from './read-log.js';
import { headForAppend, nextLink } from './record-chain.js';
import { repairTail } from './repair.js';
import {
  checkSize,
  closeQuietly,
  openSegment,
  type Segment,
  segmentAtPlace,
  TAIL,
  writeWhole,
} from './segment-file.js';

/** The one writer of a run's log. Which process that is, lock.ts settles. */
export type RunLog = {
  /** Of the last record that is on disk or on its way there. */
  lastSeq(): number;
  /** Where the next record will stand. */
  place(): LogPlace;
  /**
   * Writes one record and resolves once it is durable, with the record as numbered; or with what is wrong, and then nothing of it is in the log and the
   * next append is sound. 'now' (keyed entries) syncs at once, 'soon' (sensor checks) syncs at most every 50 ms: one alone at once, many share. Resolves in order.
   */
  append(
    body: RecordBody,
    head: { readonly at: string; readonly by: string },
    when?: 'now' | 'soon',
  ): Promise<Result<LogRecord>>;
  /** Makes everything durable before it returns; for leaving the program. */
  flush(): Result<null>;
  close(): Result<null>;
};

export type OpenedLog = {
  readonly log: RunLog;
  readonly end: LogEnd;
  /** What was repaired, in words, or null. */
  readonly repaired: string | null;
};

export type LogOptions = { readonly disk?: Disk; readonly segmentBytes?: number; readonly soonMs?: number };

/**
 * Opens a run's log for writing: gives every record in it (from a place on, when one is given) to `take`, repairs a torn tail, refuses any other damage.
 * An empty folder begins a log.
 */
export const openRunLog = (
  folder: string,
  take: (record: LogRecord) => void,
  options: LogOptions = {},
  from?: LogPlace,
  behind?: (place: LogPlace) => void,
): Result<OpenedLog> => {
  const end = readLog(folder, take, from, behind);
  if (!end.ok) return end;
  let repaired: string | null = null;
  if (end.value.torn !== null) {
    const repair = repairTail(end.value.torn);
    if (!repair.ok) return repair;
    repaired = repair.value;
  }
  const disk = options.disk ?? realDisk;
  const opened = openLast(folder, end.value, disk);
  if (!opened.ok) return opened;
  const chain = headForAppend(folder);
  if (!chain.ok) return chain;
  const log = writer(folder, opened.value, end.value, chain.value, {
    disk,
    segmentBytes: options.segmentBytes ?? 1 << 24,
    soonMs: options.soonMs ?? 50,
  });
  return ok({ log, end: end.value, repaired });
};

/** In a burst of sensor checks one look at the file serves those of so many milliseconds. */
const LOOK_MS = 5;

type Waiting = { readonly record: LogRecord; readonly settle: (result: Result<LogRecord>) => void };

const openLast = (folder: string, end: LogEnd, disk: Disk): Result<Segment> => {
  const number = Math.max(1, end.segments.length);
  return openSegment(folder, number, end.segments.length === 0, disk);
};

const writer = (
  folder: string,
  last: Segment,
  end: LogEnd,
  chain: string,
  { disk, segmentBytes, soonMs }: Required<LogOptions>,
): RunLog => {
  let segment = last;
  /** Written to the system, and known to be on disk: bytes and lines of this segment, its last bytes, and the last sequence number. */
  let written: Extent = {
    bytes: last.bytes,
    lines: end.place.line + (end.torn?.whole === true ? 1 : 0),
    seq: end.lastSeq,
    tail: last.bytes === 0 ? Buffer.alloc(0) : disk.before(last.path, last.bytes, TAIL),
    chain,
  };
  let durable = written;
  let waiting: Waiting[] = [];
  let mustCut = false;
  let syncing = false;
  let closed = false;
  let timer: NodeJS.Timeout | null = null;
  /** When the last sync was begun, in milliseconds that only run. */
  let syncedAt = -Infinity;
  /** When the file was last looked at, in milliseconds that only run. */
  let lookedAt = -Infinity;
  /** Segments closed while a sync of theirs was still under way. */
  const retired: number[] = [];

  const append: RunLog['append'] = (body, head, when = 'now') =>
    new Promise((settle) => {
      try {
        write(body, head, when, settle);
      } catch (error) {
        // Whatever it was, nothing of the line may stand, and the next append must find the log sound.
        mustCut = true;
        settle(writeProblem(error, 'write', segment.path));
      }
    });

  const write = (
    body: RecordBody,
    head: { readonly at: string; readonly by: string },
    when: 'now' | 'soon',
    settle: (result: Result<LogRecord>) => void,
  ): void => {
    const ready = makeReady(when);
    if (!ready.ok) {
      settle(ready);
      return;
    }
    const record: LogRecord = { v: RECORD_VERSION, seq: written.seq + 1, at: head.at, by: head.by, ...body };
    const frame = encodeChained(record, written.chain);
    const wrote = writeWhole(segment, frame, disk);
    if (!wrote.ok) {
      mustCut = true;
      cutBack();
      settle(wrote);
      return;
    }
    written = {
      bytes: written.bytes + frame.length,
      lines: written.lines + 1,
      seq: record.seq,
      tail: frame.subarray(-TAIL),
      chain: nextLink(written.chain, frame),
    };
    waiting.push({ record, settle });
    if (when === 'now') startSync();
    else timer ??= setTimeout(startSync, Math.max(0, syncedAt + soonMs - performance.now()));
  };

  /** Everything that must be so before a line may be appended. */
  const makeReady = (when: 'now' | 'soon'): Result<null> => {
    if (closed) return fail('the run log is closed', segment.path);
    const now = performance.now();
    if (when === 'soon' && !mustCut && now < lookedAt + LOOK_MS && written.bytes < segmentBytes) return ok(null);
    lookedAt = now;
    const there = beAtPlace();
    if (!there.ok) return there;
    // What was cut was held against its length in the doing.
    const sound = mustCut ? cutBack() : checkSize(segment, there.value, written.bytes);
    if (!sound.ok || written.bytes < segmentBytes) return sound;
    beginNext();
    return cutBack();
  };

  /** A line that was only half written is taken off again. */
  const cutBack = (): Result<null> => {
    if (!mustCut) return ok(null);
    try {
      disk.truncate(segment.fd, written.bytes);
      if (disk.stat(segment.fd).size !== written.bytes)
        return fail(`could not cut a broken line off ${segment.path}; check the disk`, segment.path, 'machine');
      mustCut = false;
      return ok(null);
    } catch (error) {
      return writeProblem(error, 'cut a broken line off', segment.path);
    }
  };

  /** The file we write is the one that stands at its path; when it is not, it is opened anew, if what stands there now is what we wrote. Says its length. */
  const beAtPlace = (): Result<number> => {
    const found = segmentAtPlace(folder, segment, { ...written, mayBeLonger: mustCut, busy: waiting.length > 0 }, disk);
    if (!found.ok) return found;
    const old = segment;
    const { size } = found.value;
    segment = found.value.segment;
    if (old.fd === segment.fd) return ok(size);
    if (syncing) retired.push(old.fd);
    else closeQuietly(old.fd, disk);
    return ok(size);
  };

  const startSync = (): void => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    if (syncing || waiting.length === 0) return;
    syncing = true;
    syncedAt = performance.now();
    const { fd, path } = segment;
    const upTo = { ...written };
    const count = waiting.length;
    disk.sync(fd, (error) => {
      syncing = false;
      for (const old of retired.splice(0)) closeQuietly(old, disk);
      if (closed) return;
      // Of a segment that was closed meanwhile, all was settled then.
      if (segment.fd === fd) {
        if (error !== null) failWaiting(writeProblem(error, 'write', path));
        else settleFirst(Math.min(count, waiting.length), upTo);
      }
      if (timer === null) startSync();
    });
  };

  const settleFirst = (count: number, upTo: Extent): void => {
    if (upTo.seq > durable.seq) durable = upTo;
    for (const { record, settle } of waiting.splice(0, count)) settle(ok(record));
  };

  /** After a failed sync nobody knows what is on disk: all that was not yet durable is taken off again, to be written anew. */
  const failWaiting = (problem: Result<never>): void => {
    const failed = waiting;
    waiting = [];
    written = durable;
    mustCut = true;
    cutBack();
    for (const { settle } of failed) settle(problem);
  };

  const flush = (): Result<null> => {
    if (closed || (waiting.length === 0 && durable.seq === written.seq)) return ok(null);
    try {
      disk.syncNow(segment.fd);
      settleFirst(waiting.length, written);
      return ok(null);
    } catch (error) {
      const problem = writeProblem(error, 'write', segment.path);
      failWaiting(problem);
      return problem;
    }
  };

  /** The next segment; when it cannot be begun, this one just grows on. */
  const beginNext = (): void => {
    if (!flush().ok) return;
    const next = openSegment(folder, segment.number + 1, true, disk);
    if (!next.ok) return;
    if (syncing) retired.push(segment.fd);
    else disk.close(segment.fd);
    segment = next.value;
    written = { bytes: segment.bytes, lines: 0, seq: written.seq, tail: Buffer.alloc(0), chain: written.chain };
    durable = written;
  };

  const close = (): Result<null> => {
    const flushed = flush();
    if (timer !== null) clearTimeout(timer);
    if (closed) return flushed;
    closed = true;
    if (syncing) retired.push(segment.fd);
    else closeQuietly(segment.fd, disk);
    return flushed;
  };

  const place = (): LogPlace => ({
    segment: segment.number,
    offset: written.bytes,
    line: written.lines,
    seq: written.seq,
  });

  return { lastSeq: () => written.seq, place, append, flush, close };
};

type Extent = {
  readonly bytes: number;
  readonly lines: number;
  readonly seq: number;
  readonly tail: Buffer;
  readonly chain: string;
};
