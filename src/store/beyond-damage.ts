import { readFileSync } from 'node:fs';
import type { LogRecord } from '../core/record.js';
import { decodeFrame } from './frame.js';
import { segmentsOf } from './segments.js';

/** Lines of a log that stand behind its first damage and are whole in themselves, from the damaged line on: how many, and of what time. */
export type Beyond = {
  readonly whole: number;
  readonly broken: number;
  readonly from: string | null;
  readonly to: string | null;
};

/** What a rescue cannot bring over, counted: `lastSeq` is the last entry before the damage. */
export const beyondDamage = (folder: string, lastSeq: number): Beyond => {
  const segments = segmentsOf(folder);
  let found: Beyond = { whole: 0, broken: 0, from: null, to: null };
  for (const file of segments.ok ? segments.value : []) {
    const bytes = readFileSync(file);
    for (let start = 0; start < bytes.length; ) {
      const newline = bytes.indexOf(0x0a, start);
      const end = newline < 0 ? bytes.length : newline;
      const record: LogRecord | string = decodeFrame(Buffer.from(bytes.subarray(start, end)), 0, end - start);
      if (typeof record === 'string') found = { ...found, broken: found.broken + 1 };
      else if (record.seq > lastSeq)
        found = { ...found, whole: found.whole + 1, from: found.from ?? record.at, to: record.at };
      start = end + 1;
    }
  }
  return found;
};
