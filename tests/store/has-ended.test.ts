import { appendFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RecordBody } from '../../src/core/record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { hasEnded } from '../../src/store/has-ended.js';
import { tempFolder } from './temp-folder.js';

const head = { at: '2026-03-02T09:14:05.120Z', by: 'MK' };
const lines = (bodies: readonly RecordBody[], from = 1): Buffer =>
  Buffer.concat(bodies.map((body, i) => encodeFrame({ v: 1, seq: from + i, ...head, ...body })));
const END: RecordBody = { type: 'end', web_m: 9 };
const NOTE: RecordBody = { type: 'note', web_m: null, text: 'plum läuft 🙂'.repeat(9000) };
const STOP: RecordBody = { type: 'stop', web_m: 1 };
const back = (entry: number): RecordBody => ({ type: 'withdraw', check: null, entry, web_m: null });

const run = (bodies: readonly RecordBody[], tail = ''): boolean => {
  const folder = tempFolder();
  const file = join(folder, 'log-0001.ndjson');
  writeFileSync(file, lines(bodies));
  appendFileSync(file, tail);
  return hasEnded(folder);
};

describe('whether a run has ended', () => {
  test.each([
    [[STOP], false],
    [[STOP, END], true],
    [[STOP, END, NOTE], true],
    [[STOP, END, NOTE, back(3)], true],
    [[STOP, END, back(2)], false],
    [[STOP, END, back(2), NOTE], false],
    [[STOP, END, back(2), END], true],
    [[], false],
  ] as const)('%# is told from its last lines', (bodies, ended) => expect(run(bodies)).toBe(ended));

  test('through a torn tail, and over the border of a segment', () => {
    expect(run([STOP, END], '{"crc":"12')).toBe(true);
    expect(run([STOP], '{"crc":"12')).toBe(false);
    const folder = tempFolder();
    writeFileSync(join(folder, 'log-0001.ndjson'), lines([STOP, END]));
    writeFileSync(join(folder, 'log-0002.ndjson'), lines([NOTE], 3));
    expect(hasEnded(folder)).toBe(true);
  });

  test('a line that is none counts as open', () => expect(run([STOP, END], 'hello\n')).toBe(false));

  test('the same as reading the log from its first line', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom('end', 'note', 'back'), { maxLength: 12 }), (kinds) => {
        const bodies: RecordBody[] = [STOP];
        let ended: number | null = null;
        for (const kind of kinds) {
          const seq = bodies.length + 1;
          if (kind === 'end' && ended === null) {
            bodies.push(END);
            ended = seq;
          } else if (kind === 'back' && ended !== null) {
            bodies.push(back(ended));
            ended = null;
          } else bodies.push({ ...NOTE, text: 'short' });
        }
        expect(run(bodies)).toBe(ended !== null);
      }),
      { numRuns: 200 },
    );
  });
});
