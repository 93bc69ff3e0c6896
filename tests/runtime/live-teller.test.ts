import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { LogRecord } from '../../src/core/record.js';
import { apply } from '../../src/core/run/apply.js';
import type { RunState } from '../../src/core/run/state.js';
import { handoverOf } from '../../src/runtime/handover-of.js';
import { liveTeller } from '../../src/runtime/live-teller.js';
import { encodeFrame } from '../../src/store/frame.js';
import { tryRun } from '../support/try-run.js';

const AT = Date.UTC(2026, 2, 2, 12);
let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'holdreg-live-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A run whose log has a movement at its beginning, then so many notes. */
const longRun = (notes: number): { readonly records: readonly LogRecord[]; readonly state: RunState } => {
  const run = tryRun();
  run.check(1, 1_000, { '2': 0, '3': 0, '4': 0, D: 0 });
  run.check(2, 2_000, { '2': 0, '3': 0.4, '4': 0, D: 0 });
  for (let n = 0; n < notes; n += 1) run.put({ type: 'note', web_m: 2_000, text: `note ${n}` });
  writeFileSync(join(folder, 'log-0001.ndjson'), Buffer.concat(run.records.map(encodeFrame)));
  return { records: run.records, state: run.state() };
};

const nextNote = (state: RunState): LogRecord => ({
  v: 1,
  seq: state.seq + 1,
  at: new Date(AT).toISOString(),
  by: 'MK',
  type: 'note',
  web_m: 2_000,
  text: 'came meanwhile',
});

describe('the handover of an open run', () => {
  test('a short run is told whole at once, and hears what comes after', () => {
    const { state } = longRun(5);
    const teller = liveTeller(folder, () => {});
    const first = teller.words(state, AT, null);
    expect([first.whole, first.view.stories.length, first.view.notes.length]).toEqual([true, 1, 5]);
    const record = nextNote(state);
    const { state: next, found } = apply(state, record);
    teller.took(record, next, found);
    expect(teller.words(next, AT, null).view.notes.at(-1)?.words).toContain('came meanwhile');
    const all = teller.handover(AT, null);
    expect(all.ok && all.value.charts?.length).toBe(8);
  });

  test('of a long run first what the state remembers, then all of it, with what was recorded meanwhile', async () => {
    const { state } = longRun(4_000);
    let ready = (): void => {};
    const done = new Promise<void>((resolve) => {
      ready = resolve;
    });
    const teller = liveTeller(folder, () => ready());
    const first = teller.words(state, AT, null);
    expect(first.whole).toBe(false);
    expect(first.view.board.events).toHaveLength(1);
    const record = nextNote(state);
    const { state: next, found } = apply(state, record);
    appendFileSync(join(folder, 'log-0001.ndjson'), encodeFrame(record));
    teller.took(record, next, found);
    await done;
    const then = teller.words(next, AT, null);
    expect(then.whole).toBe(true);
    const told = handoverOf(folder, AT, { since: null });
    if (!told.ok) throw new Error(told.problem.message);
    // The board prints nothing, so its words prove nothing.
    const { whole: _w, charts: _c, paper: _p, ...wanted } = told.value;
    expect(then.view).toEqual(wanted);
    expect(then.view.notes.at(-1)?.words).toContain('came meanwhile');
  });

  test('told whole when that is asked for while the log is still being read', () => {
    const { state } = longRun(4_000);
    const teller = liveTeller(folder, () => {});
    expect(teller.words(state, AT, null).whole).toBe(false);
    const all = teller.handover(AT, null);
    expect(all.ok && all.value.stories.length).toBe(1);
    expect(teller.words(state, AT, null).whole).toBe(true);
    teller.stop();
  });
});
