import { closeSync, constants, openSync, readSync } from 'node:fs';
import type { LogRecord } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';
import { decodeFrame, startsAsFrame } from './frame.js';
import { segmentsOf } from './segments.js';

/** Bytes at the end of the last segment that power failing in a write left behind; `whole` when only the line end is wanting. */
export type TornTail = {
  readonly file: string;
  readonly offset: number;
  readonly bytes: number;
  readonly whole: boolean;
};

/** A border between two lines: segment (from 1), bytes and lines before it in that segment, and the sequence number of the line before it. */
export type LogPlace = {
  readonly segment: number;
  readonly offset: number;
  readonly line: number;
  readonly seq: number;
};

/** How far a log goes: its segments, its last sequence number (0 = empty), bytes read, where the next line (or the torn one) begins, and the torn tail if there is one. */
export type LogEnd = {
  readonly segments: readonly string[];
  readonly lastSeq: number;
  readonly bytes: number;
  readonly place: LogPlace;
  readonly torn: TornTail | null;
};

/** Records that were read at once, and where the log stands behind them. */
export type LogBatch = { readonly records: readonly LogRecord[]; readonly place: LogPlace };

export const LOG_START: LogPlace = { segment: 1, offset: 0, line: 0, seq: 0 };

/**
 * Reads a run's log from its first line (or from a place), a batch of records at a time and in bounded memory; changes nothing. Ends with how far the log goes, or with
 * the first damage: every record before it has been given out by then.
 */
export function* logBatches(folder: string, from: LogPlace = LOG_START): Generator<LogBatch, Result<LogEnd>> {
  const segments = segmentsOf(folder);
  if (!segments.ok) return segments;
  let bytes = 0;
  let lastSeq = from.seq;
  let torn: TornTail | null = null;
  let place = from;
  for (const [index, file] of segments.value.entries()) {
    if (index + 1 < from.segment) continue;
    const start = index + 1 === from.segment ? from : { segment: index + 1, offset: 0, line: 0, seq: lastSeq };
    const end = yield* segmentBatches(file, start, index === segments.value.length - 1);
    if (!end.ok) return end;
    ({ lastSeq, place, torn } = end.value);
    bytes += end.value.bytes - start.offset;
  }
  return ok({ segments: segments.value, lastSeq, bytes, place, torn });
}

/** The same, handing each record to `take`; `behind` hears where the log stands after each batch. */
export const readLog = (
  folder: string,
  take: (record: LogRecord) => void,
  from: LogPlace = LOG_START,
  behind: (place: LogPlace) => void = () => undefined,
): Result<LogEnd> => {
  const batches = logBatches(folder, from);
  for (;;) {
    const step = batches.next();
    if (step.done === true) return step.value;
    for (const record of step.value.records) take(record);
    behind(step.value.place);
  }
};

type SegmentEnd = {
  readonly lastSeq: number;
  readonly bytes: number;
  readonly place: LogPlace;
  readonly torn: TornTail | null;
};

const CHUNK = 1 << 18;
/** A line longer than this was never written by us. */
const LONGEST = 1 << 24;
const NEWLINE = 0x0a;

function* segmentBatches(file: string, from: LogPlace, isLast: boolean): Generator<LogBatch, Result<SegmentEnd>> {
  let fd: number;
  try {
    fd = openSync(file, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
  } catch (error) {
    return diskProblem(error, 'open', file);
  }
  try {
    return yield* linesOf(fd, file, from, isLast);
  } catch (error) {
    return diskProblem(error, 'read', file);
  } finally {
    closeSync(fd);
  }
}

function* linesOf(fd: number, file: string, from: LogPlace, isLast: boolean): Generator<LogBatch, Result<SegmentEnd>> {
  let buffer = Buffer.allocUnsafe(CHUNK);
  let filled = 0;
  /** Where in the file the buffer begins. */
  let base = from.offset;
  let lastSeq = from.seq;
  let line = from.line;
  for (;;) {
    if (filled === buffer.length) {
      if (buffer.length >= LONGEST) return damaged(file, line + 1, base, 'it is longer than any log line');
      const wider = Buffer.allocUnsafe(buffer.length * 2);
      buffer.copy(wider, 0, 0, filled);
      buffer = wider;
    }
    const got = readSync(fd, buffer, filled, buffer.length - filled, base + filled);
    if (got === 0) break;
    const searchFrom = filled;
    filled += got;
    const batch: LogRecord[] = [];
    let start = 0;
    let end = buffer.indexOf(NEWLINE, searchFrom);
    while (end >= 0 && end < filled) {
      line += 1;
      const record = decodeFrame(buffer, start, end);
      const why = typeof record === 'string' ? record : outOfOrder(record, lastSeq);
      if (typeof record === 'string' || why !== null) {
        if (batch.length > 0)
          yield {
            records: batch,
            place: { segment: from.segment, offset: base + start, line: line - 1, seq: lastSeq },
          };
        return damaged(file, line, base + start, why ?? '');
      }
      batch.push(record);
      lastSeq = record.seq;
      start = end + 1;
      end = buffer.indexOf(NEWLINE, start);
    }
    buffer.copyWithin(0, start, filled);
    filled -= start;
    base += start;
    if (batch.length > 0) yield { records: batch, place: { segment: from.segment, offset: base, line, seq: lastSeq } };
  }
  const place = { segment: from.segment, offset: base, line, seq: lastSeq };
  if (filled === 0) return ok({ lastSeq, bytes: base, place, torn: null });
  return yield* tail(buffer.subarray(0, filled), { file, place, isLast });
}

type TailPlace = { readonly file: string; readonly place: LogPlace; readonly isLast: boolean };

/** Bytes without a line end: torn only at the very end of the log, and only if they are the beginning of a line of ours (or unwritten zeros). */
function* tail(bytes: Buffer, { file, place, isLast }: TailPlace): Generator<LogBatch, Result<SegmentEnd>> {
  const line = place.line + 1;
  const base = place.offset;
  if (!isLast) return damaged(file, line, base, 'it has no line end, though later segments follow');
  const tornBytes = bytes.length;
  const upTo = base + tornBytes;
  const lineEndChanged = typeof decodeFrame(Buffer.from(bytes), 0, bytes.length - 1) !== 'string';
  if (lineEndChanged) return damaged(file, line, base, 'its line end was changed after it was written');
  const record = decodeFrame(Buffer.from(bytes), 0, bytes.length);
  if (typeof record !== 'string') {
    const why = outOfOrder(record, place.seq);
    if (why !== null) return damaged(file, line, base, why);
    yield { records: [record], place };
    return ok({
      lastSeq: record.seq,
      bytes: upTo,
      place,
      torn: { file, offset: base, bytes: tornBytes, whole: true },
    });
  }
  const written = bytes.findLastIndex((byte) => byte !== 0) + 1;
  if (!startsAsFrame(bytes, 0, written)) return damaged(file, line, base, 'it is nothing that this program writes');
  return ok({
    lastSeq: place.seq,
    bytes: upTo,
    place,
    torn: { file, offset: base, bytes: tornBytes, whole: false },
  });
}

const outOfOrder = (record: LogRecord, lastSeq: number): string | null =>
  record.seq === lastSeq + 1
    ? null
    : `entry ${lastSeq + 1} should stand here, but it is entry ${record.seq}: entries were lost, doubled or moved`;

const damaged = (file: string, line: number, offset: number, why: string) =>
  fail(
    `${file}: line ${line} (byte ${offset}): ${why}. Nothing was changed. Keep a copy of the run folder and restore this file from a backup, or go on with holdreg rescue; the entries before this line are sound`,
    `${file}:${line}`,
  );
