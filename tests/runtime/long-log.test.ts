import { appendFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { RecordBody } from '../../src/core/record.js';
import { handoverOf } from '../../src/runtime/handover-of.js';
import { openState } from '../../src/runtime/open-state.js';
import { telling } from '../../src/runtime/telling.js';
import { readCheckpoint } from '../../src/store/checkpoint.js';
import { encodeFrame } from '../../src/store/frame.js';
import { programMark } from '../../src/store/program-mark.js';
import { tryRun } from '../support/try-run.js';

const AT = Date.UTC(2026, 2, 2, 12);
let folder = '';
let lines = 0;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'holdreg-long-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const log = (): string => join(folder, 'log-0001.ndjson');
const put = (count: number, body: (i: number) => RecordBody): void => {
  const at = new Date(AT - 3_600_000).toISOString();
  const frames = Array.from({ length: count }, (_, i) =>
    encodeFrame({ v: 1, seq: lines + i + 1, at, by: 'MK', ...body(i) }),
  );
  appendFileSync(log(), Buffer.concat(frames));
  lines += count;
};

/** A run with a movement at its beginning, then so many entries. */
const run = (count: number): void => {
  const made = tryRun();
  made.check(1, 1_000, { '2': 0, '3': 0, '4': 0, D: 0 });
  made.check(2, 2_000, { '2': 0, '3': 0.4, '4': 0, D: 0 });
  writeFileSync(log(), Buffer.concat(made.records.map(encodeFrame)));
  lines = made.records.length;
  put(count, (i) => ({ type: 'position', web_m: 2_000 + i }));
};

describe('a long log without a checkpoint', () => {
  test('tells how much of it is read, and goes on from where it was ended on the way', () => {
    run(45_000);
    const shares: number[] = [];
    const cut = (share: number): void => {
      shares.push(share);
      if (share > 0.7) throw new Error('ended by hand');
    };
    expect(() => openState(folder, 'write', { progress: cut })).toThrow('ended by hand');
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    const left = readCheckpoint(folder, programMark());
    const seq = left.ok ? (left.value?.chain.place.seq ?? 0) : 0;
    expect(seq).toBeGreaterThanOrEqual(20_000);
    const anew: number[] = [];
    const opened = openState(folder, 'write', { progress: (share) => anew.push(share) });
    if (!opened.ok) throw new Error(opened.problem.message);
    opened.value.log?.close();
    expect(anew[0]).toBeGreaterThan(0.4);
    expect(anew.at(-1)).toBe(1);
    rmSync(join(folder, 'checkpoint.json'));
    const scratch = openState(folder, 'look');
    expect(scratch.ok && JSON.stringify(scratch.value.state)).toBe(JSON.stringify(opened.value.state));
  });

  test('whoever only looks leaves nothing behind', () => {
    run(25_000);
    expect(openState(folder, 'look').ok).toBe(true);
    expect(readCheckpoint(folder, programMark())).toEqual({ ok: true, value: null });
  });
});

describe('the handover of a long log', () => {
  const view = (since: string | null = null) => {
    const told = handoverOf(folder, AT, { since });
    if (!told.ok) throw new Error(told.problem.message);
    return told.value;
  };

  test('is told from where it was told the last time, and says the same as from the first record', () => {
    run(3_000);
    expect(telling(folder).from.seq).toBe(0);
    const first = view();
    expect(telling(folder).from.seq).toBe(lines);
    expect(view()).toEqual(first);
    put(5, (i) => ({ type: 'note', web_m: 5_000, text: `after ${i}` }));
    put(1, () => ({ type: 'withdraw', web_m: null, entry: 4, check: null }));
    const on = view();
    expect(on.notes).toHaveLength(5);
    rmSync(join(folder, 'told.json'));
    expect(JSON.stringify(view())).toBe(JSON.stringify(on));
  });

  test('what was kept is thrown away when the log does not bear it out, and the damage is told', () => {
    run(3_000);
    view();
    const bytes = readFileSync(log());
    bytes[bytes.indexOf('"web_m":2100') + 8] = 0x33;
    writeFileSync(log(), bytes);
    expect(telling(folder).from.seq).toBe(0);
    const told = handoverOf(folder, AT, { since: null });
    expect(told.ok ? '' : told.problem.message).toMatch(/line \d+ .*checksum does not match/);
  });
});
