import { closeSync, constants, openSync, readSync } from 'node:fs';
import { decodeFrame } from './frame.js';
import { segmentsOf } from './segments.js';

/**
 * Whether a run folder holds a run: its log has a first record. One without is what a start left behind that was killed or met a full disk; it holds
 * no entry, and it must not stand in the way of the run in progress. What is damaged counts as begun: opening it says what is wrong.
 */
export const isBegun = (folder: string): boolean => {
  const segments = segmentsOf(folder);
  if (!segments.ok || segments.value.length > 1) return true;
  const [first] = segments.value;
  return first !== undefined && holdsALine(first);
};

const CHUNK = 1 << 16;
const NEWLINE = 0x0a;

const holdsALine = (file: string): boolean => {
  let fd: number;
  try {
    fd = openSync(file, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
  } catch {
    return true;
  }
  try {
    let bytes = Buffer.alloc(0);
    for (const chunk = Buffer.alloc(CHUNK); ; ) {
      const got = readSync(fd, chunk, 0, CHUNK, bytes.length);
      const line = chunk.subarray(0, got).indexOf(NEWLINE);
      if (line >= 0) return true;
      // A first record whose line end is wanting, or was changed, is a record all the same.
      if (got === 0)
        return [0, 1].some((cut) => typeof decodeFrame(Buffer.from(bytes), 0, bytes.length - cut) !== 'string');
      bytes = Buffer.concat([bytes, chunk.subarray(0, got)]);
    }
  } catch {
    return true;
  } finally {
    closeSync(fd);
  }
};
