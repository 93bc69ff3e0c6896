import { appendFileSync, readdirSync, readFileSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../src/core/record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { readLog } from '../../src/store/read-log.js';
import { repairTail } from '../../src/store/repair.js';
import { tempFolder } from './temp-folder.js';

const stop = (seq: number): Buffer =>
  encodeFrame({ v: 1, seq, at: '2026-03-02T09:14:05.120Z', by: 'MK', type: 'stop', web_m: seq } as LogRecord);

describe('cutting off a torn tail', () => {
  test('what was written after the tail was seen is never cut off', () => {
    const folder = tempFolder();
    const file = join(folder, 'log-0001.ndjson');
    const torn = stop(2).subarray(0, 30);
    appendFileSync(file, Buffer.concat([stop(1), torn]));
    const seen = readLog(folder, () => undefined);
    if (!seen.ok || seen.value.torn === null) throw new Error('no torn tail');
    // Another program opens the run, repairs it and takes two entries, before the first one comes to its cut.
    truncateSync(file, stop(1).length);
    appendFileSync(file, Buffer.concat([stop(2), stop(3)]));
    const whole = readFileSync(file);
    const repaired = repairTail(seen.value.torn);
    expect(repaired.ok ? 'cut' : repaired.problem.message).toContain('was written to meanwhile');
    expect(readFileSync(file)).toEqual(whole);
    expect(readdirSync(folder)).toEqual(['log-0001.ndjson']);
  });
});
