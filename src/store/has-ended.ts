import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import type { LogRecord } from '../core/record.js';
import { decodeFrame } from './frame.js';
import { segmentsOf } from './segments.js';

/**
 * Whether a run has ended, told from the last lines of its log: behind an end stand only notes and what takes entries back. A log that cannot be read
 * counts as open: opening it will say what is wrong.
 */
export const hasEnded = (folder: string): boolean => {
  const segments = segmentsOf(folder);
  if (!segments.ok) return false;
  const takenBack = new Set<number | null>();
  for (const file of segments.value.toReversed())
    for (const record of lastLines(file)) {
      if (record === null) return false;
      if (record.type === 'withdraw') takenBack.add(record.entry);
      else if (record.type === 'end' && !takenBack.has(record.seq)) return true;
      else if (record.type !== 'note' && record.type !== 'end') return false;
    }
  return false;
};

const CHUNK = 1 << 16;
const NEWLINE = 0x0a;

/** The records of a segment, last first; null = a line that is none. A torn tail is passed over. */
function* lastLines(file: string): Generator<LogRecord | null> {
  let fd: number;
  try {
    fd = openSync(file, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
  } catch {
    yield null;
    return;
  }
  try {
    let begins = fstatSync(fd).size;
    let bytes = Buffer.alloc(0);
    let isTail = true;
    while (begins > 0 || bytes.length > 0) {
      const border = bytes.length < 2 ? -1 : bytes.lastIndexOf(NEWLINE, bytes.length - 2);
      if (border < 0 && begins > 0) {
        const more = Buffer.alloc(Math.min(CHUNK, begins));
        begins -= more.length;
        readSync(fd, more, 0, more.length, begins);
        bytes = Buffer.concat([more, bytes]);
        continue;
      }
      const line = bytes.subarray(border + 1);
      bytes = bytes.subarray(0, border + 1);
      const torn = isTail && line.at(-1) !== NEWLINE;
      isTail = false;
      if (torn) continue;
      const record = decodeFrame(Buffer.from(line), 0, line.length - 1);
      yield typeof record === 'string' ? null : record;
    }
  } finally {
    closeSync(fd);
  }
}
