import { describe, expect, test } from 'vitest';
import type { RecordBody } from '../../../src/core/record.js';
import { nearestIndex } from '../../../src/core/spc/capability.js';
import type { HandoverView } from '../../../src/core/views/handover-view.js';
import { turnGave } from '../../../src/core/views/took-words.js';
import { handoverText } from '../../../src/report/handover-text.js';
import { handoverOf } from '../../support/handover-of.js';
import { PRESS, type TryRun } from '../../support/try-run.js';

const good = { '2': 0, '3': 0, '4': 0, D: 0 };

const told = (...asked: Parameters<typeof handoverOf>): HandoverView => handoverOf(...asked).view;

describe('the story of a movement', () => {
  test('advice across is told by the word and the mark of the across knob', () => {
    const knobs = { ...PRESS.knobs, across: { ...PRESS.knobs.across, word: 'clicks', sense: -1 } };
    const view = told(
      (run) => {
        for (let i = 1; i <= 3; i += 1) run.check(i, i * 1_000, good);
        for (let i = 4; i <= 9; i += 1) run.check(i, i * 1_000, { ...good, '3': [0, 0.4] });
      },
      { press: { knobs } },
    );
    const advised = view.stories.flatMap((s) => s.advised).filter((line) => line.includes('gear side'));
    expect(advised.length).toBeGreaterThan(0);
    for (const line of advised) expect(line).toMatch(/clicks/);
  });

  test('a turn of two equal ones has its own result', () => {
    const turn = (web_m: number): RecordBody => ({
      type: 'correction',
      station: '3',
      axis: 'along',
      move_mm: -0.1,
      teeth: 0,
      divisions: -5,
      web_m,
    });
    const view = told((run) => {
      for (let i = 1; i <= 4; i += 1) run.check(i, i * 1_000, good);
      run.put(turn(4_010));
      run.put({ type: 'withdraw', check: null, entry: run.records.at(-1)?.seq ?? 0, web_m: null });
      run.put(turn(4_020));
      run.check(5, 5_000, { ...good, '3': -0.1 });
    });
    expect(view.corrections.map((c) => [c.web_m, c.withdrawn, c.result !== null])).toEqual([
      [4_010, true, false],
      [4_020, false, true],
    ]);
  });

  test('a movement is found where the records as they stand find it, not where a check taken back had', () => {
    const view = told((run) => {
      for (let i = 1; i <= 3; i += 1) run.check(i, i * 1_000, good);
      run.check(4, 4_000, { ...good, '3': 0.4 });
      run.put({ type: 'withdraw', check: 4, entry: null, web_m: null });
      for (let i = 5; i <= 8; i += 1) run.check(i, i * 1_000, { ...good, '3': i < 7 ? 0 : 0.4 });
    });
    for (const { event, found_web_m } of view.stories)
      if (event.how_closed !== 'withdrawn') expect(found_web_m).toBeGreaterThanOrEqual(event.since.web_m);
  });

  test('what was turned while it lasted is told under it, and it did not come back by itself', () => {
    const view = told((run) => {
      for (let i = 1; i <= 3; i += 1) run.check(i, i * 1_000, good);
      run.check(4, 4_000, { ...good, '3': 0.4 });
      run.put({
        type: 'correction',
        station: '3',
        axis: 'along',
        move_mm: -0.4,
        teeth: 0,
        divisions: -20,
        web_m: 4_010,
      });
      for (let i = 5; i <= 8; i += 1) run.check(i, i * 1_000, good);
    });
    const closed = view.stories.filter(({ event }) => !event.open && event.how_closed !== 'withdrawn');
    expect(closed.length).toBeGreaterThan(0);
    for (const { event } of closed) {
      expect(event.sentence).not.toMatch(/by itself/);
      expect(event.done.join()).toMatch(/3 leaf retarded/);
    }
  });

  test('thirty seconds: what goes on first, then the newest, and what is new since the last handover', () => {
    const view = told((run) => {
      for (let i = 1; i <= 4; i += 1) {
        run.check(i * 10, i * 2_000, good);
        run.check(i * 10 + 1, i * 2_000 + 500, { ...good, [i % 2 === 0 ? '3' : '4']: 0.4 });
        if (i < 4) run.check(i * 10 + 2, i * 2_000 + 900, good);
        if (i === 3) run.put({ type: 'shift', web_m: 6_950, outgoing: 'MK', incoming: 'JB', note: null });
      }
    });
    const text = handoverText(view).replace(/\s+/g, ' ');
    expect(text).toMatch(/Since handover 1 at [^:]*:\d\d: (no|\d+) movements? found/);
    const first = text.slice(text.indexOf('HOLD:'));
    expect(first).toMatch(/^HOLD: [^.]*after 8 000 m and still going on/);
    expect(first).toMatch(/HOLD: [^.]*after 6 000 m up to and including 6 900 m/);
    expect(text).toMatch(/Made since OK to run: 8 500 m/);
  });

  test('a Cpk has its interval, and scatter is no smaller than the gauge resolves', () => {
    // Bissell (1990): 1.33 from 25 readings, 1.33 ± 1.96 √(1/225 + 1.33²/48) = 0.93 to 1.73.
    expect(nearestIndex(1.33, 25, 0.95).low).toBeCloseTo(0.9317, 4);
    expect(nearestIndex(1.33, 25, 0.95).high).toBeCloseTo(1.7283, 4);
    const view = told((run) => {
      for (let i = 1; i <= 20; i += 1) run.check(i, i * 1_000, { ...good, '3': i % 7 === 0 ? 0.001 : 0 });
    });
    const row = view.summary.find((r) => r.station === '3' && r.axis === 'along');
    // Resolution 0.01 mm: at most 0.15 / (3 × 0.01 / √12) = 17.3.
    expect(row?.cpk).toBeGreaterThan(10);
    expect(row?.cpk).toBeLessThanOrEqual(17.33);
    expect(row?.cpk_95?.low).toBeLessThan(row?.cpk ?? 0);
  });

  test('waste that settled on a roll that went its way is no news', () => {
    const view = told((run) => {
      run.put({ type: 'roll', web_m: 100, length_m: null });
      for (let i = 1; i <= 3; i += 1) {
        run.put({ type: 'finished', web_m: i * 2_000, roll: String(i) });
        run.check(i, i * 2_000 + 10, good);
      }
    });
    expect(view.abnormal.join()).not.toMatch(/settling after a splice: 100 m/);
  });

  test('what was taken back is told with why, and with what stands in its place', () => {
    const turn = (station: string, web_m: number): RecordBody => ({
      type: 'correction',
      station,
      axis: 'along',
      move_mm: -0.1,
      teeth: 0,
      divisions: -5,
      web_m,
    });
    const view = told((run) => {
      run.check(1, 1_000, good);
      run.put(turn('3', 1_010));
      const entry = run.records.at(-1)?.seq ?? 0;
      run.put({ type: 'withdraw', check: null, entry, web_m: 1_020, why: 'it was the knob of 2' });
      run.put(turn('2', 1_010));
    });
    const line = view.log.map(({ words }) => words).find((words) => words.startsWith('Taken back')) ?? '';
    expect(line).toMatch(
      /^Taken back: 3 leaf retarded 5 divisions .*\(entry \d+\), because: it was the knob of 2; in its place: 2 plum retarded 5 divisions .*\(entry \d+\)$/,
    );
  });

  test('knob travel left is told only where the press file says that knobs are centred before a run', () => {
    const steps = (run: TryRun): void => void run.check(1, 1_000, good);
    const left = (view: HandoverView): unknown =>
      view.board.stations.find(({ id }) => id === '3')?.axes.along.travel_left_mm;
    expect(left(told(steps))).toBeNull();
    const knobs = { ...PRESS.knobs, along: { ...PRESS.knobs.along, centred: true } };
    expect(left(told(steps, { press: { knobs } }))).toEqual({ plus: 3, minus: 3 });
  });

  test('a turn smaller than what one sample can tell is not told; a result between two answers neither', () => {
    const gave = (asked_mm: number, got_mm: number, took: boolean, sd_mm: number): string =>
      turnGave({ type: 'correction', event: null, station: '3', axis: 'along', asked_mm, got_mm, took }, sd_mm);
    expect(gave(0.02, -0.02, false, 0.03)).toBe('not told');
    expect(gave(0.1, 0.06, false, 0.03)).toBe('not told');
    expect(gave(0.2, 0.01, false, 0.03)).toBe('did not take');
    expect(gave(0.2, -0.19, true, 0.03)).toBe('other way');
  });

  test('a print that went the other way did not take', () => {
    const gave = (asked_mm: number, got_mm: number, took: boolean): string =>
      turnGave({ type: 'correction', event: null, station: '3', axis: 'along', asked_mm, got_mm, took });
    expect([gave(-0.2, -0.18, true), gave(-0.2, 0.19, true), gave(-0.2, 0.01, false), gave(0.2, -0.2, true)]).toEqual([
      'took',
      'other way',
      'did not take',
      'other way',
    ]);
  });
});
