import { appendFileSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
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

  test('says what it found and did, not what it cannot know', () => {
    const folder = tempFolder();
    const file = join(folder, 'log-0001.ndjson');
    writeFileSync(file, '{"seq":1}\n{"se');
    const said = repairTail({ file, offset: 10, bytes: 4, whole: false });
    if (!said.ok) throw new Error(said.problem.message);
    expect(said.value).toContain(
      'its 4 bytes are no whole entry and were cut off; look whether the last thing keyed is there',
    );
    expect(said.value).not.toMatch(/never|not finished|nothing was lost|taken/);
    expect(readFileSync(file, 'utf8')).toBe('{"seq":1}\n');
    expect(readFileSync(`${file}.torn-1`, 'utf8')).toBe('{"seq":1}\n{"se');
  });
});
