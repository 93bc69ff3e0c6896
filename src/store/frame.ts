import CRC32 from 'crc-32';
import { quoted } from '../core/quoted.js';
import { type LogRecord, RECORD_VERSION } from '../core/record.js';

/*
 * The run log, on disk
 *
 * A run is a folder of segments, log-0001.ndjson, log-0002.ndjson, … without a gap. A segment is lines of UTF-8 text, each a JSON object on its own,
 * so `jq` and `grep` read it:
 *
 *   {"crc":"1a2b3c4d","chain":"5feceb66…","v":2,"seq":17,"at":"2026-03-02T09:14:05.120Z","by":"MK","type":"stop","web_m":21450}
 *
 * `chain` is of all lines before this one (record-chain.ts; records of version 1 have none) and is no part of the record. `crc` is the CRC-32 (ISO-HDLC, as in zip) of the bytes after its comma up to, and without, the line's end, in eight lower-case hex digits. `seq` counts
 * from 1 through all segments of the run without a gap, so a line that was lost, doubled or moved is seen as well as one that was changed.
 *
 * Life: a line is appended with one write, then fdatasync, and only then is the record shown (run-log.ts). Lines are never rewritten. A segment is
 * closed when it has grown past its size and the next is begun; only the last one grows. When power fails in the middle of a write, the last line has no
 * line end: that torn tail is no entry, so it is cut off when the run is opened, after the whole segment was copied
 * beside it (repair.ts). Every other irregularity means that something which was shown has changed: it is refused, with file, line and byte.
 */

/** A record as the line that goes on disk, line end included. */
export const encodeFrame = (record: LogRecord): Buffer => framed(record, '');

/** The same, carrying the chain of all lines before it. */
export const encodeChained = (record: LogRecord, chain: string): Buffer => framed(record, `"chain":"${chain}",`);

const framed = (record: LogRecord, link: string): Buffer => {
  const line = Buffer.from(`${OPENING}00000000",${link}${JSON.stringify(record).slice(1)}\n`);
  line.write(hex(crcOf(line, PREFIX, line.length - 1)), OPENING.length, 'latin1');
  return line;
};

/** A line read back (from `start` to `end`, without its line end): the record, or why it is none. The buffer is used up in the doing. */
export const decodeFrame = (bytes: Buffer, start: number, end: number): LogRecord | string => {
  if (end - start <= PREFIX || !startsAsFrame(bytes, start, end)) return 'it does not begin as a log line';
  if (!isSum(bytes, start + OPENING.length, crcOf(bytes, start + PREFIX, end)))
    return 'its checksum does not match: it was changed after it was written';
  bytes[start + PREFIX - 1] = BRACE;
  return recordOf(bytes.toString('utf8', start + PREFIX - 1, end));
};

/** Whether bytes begin as a log line does, as far as they go. */
export const startsAsFrame = (bytes: Buffer, start: number, end: number): boolean => {
  for (let at = 0; at < OPENING.length && start + at < end; at += 1)
    if (bytes[start + at] !== OPENING.charCodeAt(at)) return false;
  return true;
};

const OPENING = '{"crc":"';
/** `{"crc":"1a2b3c4d",` */
const PREFIX = OPENING.length + 10;
const BRACE = 0x7b;

const crcOf = (bytes: Buffer, start: number, end: number): number => CRC32.buf(bytes.subarray(start, end));

/** Whether a checksum stands there, with its quote and comma; compared digit by digit, since a long log has many lines. */
const isSum = (bytes: Buffer, at: number, crc: number): boolean => {
  for (let digit = 0; digit < 8; digit += 1)
    if (bytes[at + digit] !== HEX.charCodeAt((crc >>> (28 - 4 * digit)) & 15)) return false;
  return bytes[at + 8] === QUOTE && bytes[at + 9] === COMMA;
};

const HEX = '0123456789abcdef';
const QUOTE = 0x22;
const COMMA = 0x2c;

const hex = (crc: number): string => (crc >>> 0).toString(16).padStart(8, '0');

const recordOf = (text: string): LogRecord | string => {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return 'it is not JSON';
  }
  // The chain is of the line, not of the fact: a record read back is the record that was written.
  const { chain: _, ...record } = parsed as LogRecord & { readonly chain?: string };
  if (!Number.isInteger(record.v) || !Number.isInteger(record.seq) || typeof record.type !== 'string')
    return 'it lacks v, seq or type';
  if (record.v > RECORD_VERSION)
    return `it was written by a newer holdregister (records of version ${quoted(record.v)}; this one knows up to ${RECORD_VERSION}): use the newer program`;
  return record;
};
