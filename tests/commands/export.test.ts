import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { exportRun } from '../../src/commands/export.js';
import { csvLines, fromLogRecord, recordsToCsv } from '../../src/core/readings-csv.js';
import type { LogRecord } from '../../src/core/record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { tryRun } from '../support/try-run.js';

const CHECKS = 3000;
const longRun = (): readonly LogRecord[] => {
  const { records } = tryRun();
  const readings = ['2', '3', '4', 'D'].map((station) => ({
    station,
    along_mm: 0.012,
    across_mm: -0.03,
    look: null,
    edge: null,
    plate: null,
    flaws: null,
    labels: null,
  }));
  return [
    ...records,
    ...Array.from(
      { length: CHECKS },
      (_, i): LogRecord => ({
        v: 1,
        seq: records.length + i + 1,
        at: new Date(1.772e12 + i * 60_000).toISOString(),
        by: 'MK',
        type: 'check',
        check: i + 1,
        web_m: i,
        roll: null,
        // Every tenth was pulled before the one that was keyed before it.
        pulled_at: i % 10 === 9 ? new Date(1.772e12 + (i - 1.5) * 60_000).toISOString() : null,
        source: 'keyed',
        place: null,
        readings,
      }),
    ),
  ];
};

describe('the export of a long run', () => {
  test('a CSV is written while the records are read: never are many of them held', () => {
    const records = longRun();
    let passes = 0;
    let read = 0;
    function* again() {
      passes += 1;
      read = 0;
      for (const record of records) {
        read += 1;
        yield fromLogRecord(record);
      }
    }
    let written = '';
    let rows = -1;
    let ahead = 0;
    for (const line of csvLines(again, 'r1')) {
      if (rows >= 0) ahead = Math.max(ahead, read - rows / 4);
      rows += 1;
      written += line;
    }
    expect(rows).toBe(4 * CHECKS + 1);
    expect(passes).toBeLessThanOrEqual(3);
    // The begin and the OK have no four rows of their own.
    expect(ahead).toBeLessThan(10);
    expect(written).toBe(recordsToCsv(records.map(fromLogRecord), 'r1'));
  });

  test.each(['csv', 'ndjson'])('%s goes out in pieces, each of them when the one before was taken', async (format) => {
    const data = mkdtempSync(join(tmpdir(), 'holdreg-test-'));
    mkdirSync(join(data, 'runs', 'r1'), { recursive: true });
    writeFileSync(join(data, 'runs', 'r1', 'log-0001.ndjson'), Buffer.concat(longRun().map(encodeFrame)));
    const pieces: number[] = [];
    let untaken = 0;
    const code = await exportRun(
      { data, run: 'r1', format },
      {
        out: (text) => {
          pieces.push(text.length);
          untaken += 1;
          expect(untaken).toBe(1);
        },
        err: () => {},
        drained: async () => {
          await new Promise((taken) => setImmediate(taken));
          untaken = 0;
        },
      },
    );
    expect(code).toBe(0);
    expect(pieces.length).toBeGreaterThan(5);
    expect(Math.max(...pieces)).toBeLessThan(70_000);
  });

  test('of a damaged log no line of a CSV goes out', async () => {
    const data = mkdtempSync(join(tmpdir(), 'holdreg-test-'));
    mkdirSync(join(data, 'runs', 'r1'), { recursive: true });
    const bytes = Buffer.concat(longRun().map(encodeFrame));
    bytes[bytes.length - 40] = 0x21;
    writeFileSync(join(data, 'runs', 'r1', 'log-0001.ndjson'), bytes);
    const out: string[] = [];
    const err: string[] = [];
    const code = await exportRun(
      { data, run: 'r1', format: 'csv' },
      { out: (text) => out.push(text), err: (text) => err.push(text) },
    );
    expect([code, out]).toEqual([3, []]);
    expect(err.join('')).toMatch(/checksum does not match/);
  });
});
