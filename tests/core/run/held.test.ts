import { describe, expect, test } from 'vitest';
import type { HoldSet, HoldState } from '../../../src/core/record.js';
import { heldState } from '../../../src/core/run/held.js';
import { holdSpans, isOpenHold } from '../../../src/core/views/hold-views.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

/** Good at 1 500 m, out at 3 500 m (roll 2), put right, good at 5 500 m (roll 3). */
const heldRun = (): TryRun => {
  const run = tryRun();
  const roll = (n: number, web_m: number): void => void run.put({ type: 'finished', web_m, roll: String(n) });
  run.check(1, 1_500, { '2': 0, '3': 0, '4': 0, D: 0 });
  roll(1, 2_000);
  run.check(2, 3_500, { '2': 0, '3': 0.4, '4': 0, D: 0 });
  run.put({ type: 'correction', station: '3', axis: 'along', move_mm: -0.4, teeth: 0, divisions: -20, web_m: 3_600 });
  roll(2, 4_000);
  run.check(3, 5_500, { '2': 0, '3': 0, '4': 0, D: 0 });
  roll(3, 6_000);
  return run;
};

const set = (state: HoldState, more: Partial<HoldSet> = {}): HoldSet => ({
  type: 'hold',
  from_m: 2_000,
  to_m: 4_000,
  rolls: ['2'],
  state,
  ...more,
});

describe('what becomes of held product', () => {
  test('hold, re-inspect, released by two', () => {
    const run = heldRun();
    expect(heldState(run.state(), '2', 2_000, 4_000).state).toBe('hold');
    run.put(set('re-inspect'));
    expect(heldState(run.state(), '2', 2_000, 4_000).state).toBe('re-inspect');
    expect(() => run.put(set('released'))).toThrow(/Two persons release/);
    expect(() => run.put(set('released', { by_second: '  ' }))).toThrow(/Two persons release/);
    run.put(set('released', { by_second: 'QA' }));
    expect(heldState(run.state(), '2', 2_000, 4_000)).toMatchObject({ state: 'released', set: { by_second: 'QA' } });
    const [span] = holdSpans(run.state());
    expect(span?.tags?.find(({ roll }) => roll === '2')?.state).toBe('released');
  });

  test.each(['released', 'reworked', 'scrapped', 'hold'] as const)('%s may not follow hold', (state) => {
    expect(() => heldRun().put(set(state, { by_second: 'QA' }))).toThrow(/next can only be re-inspect/);
  });

  test('a roll that is not held, or another stretch of it, is refused', () => {
    expect(() => heldRun().put(set('re-inspect', { rolls: ['9'] }))).toThrow(/not on hold/);
    expect(() => heldRun().put(set('re-inspect', { rolls: [] }))).toThrow(/Name the held rolls/);
    expect(() => heldRun().put(set('re-inspect', { from_m: 50_000, to_m: 60_000 }))).toThrow(/not on hold/);
  });

  test('while the stretch still goes on nothing can be released', () => {
    const run = tryRun();
    run.check(1, 1_500, { '2': 0, '3': 0, '4': 0, D: 0 });
    run.check(2, 3_500, { '2': 0, '3': 0.4, '4': 0, D: 0 });
    const [span] = holdSpans(run.state());
    expect(span?.to_m).toBeNull();
    const roll = span?.rolls[0];
    if (roll === undefined) return;
    expect(() => run.put(set('re-inspect', { rolls: [roll], from_m: 1_500, to_m: 3_500 }))).toThrow(/goes on/);
  });

  test('what was set holds only for product it covered', () => {
    const run = heldRun();
    run.put(set('re-inspect', { from_m: 2_500, to_m: 3_000 }));
    expect(heldState(run.state(), '2', 2_000, 4_000).state).toBe('hold');
  });

  test('taken back, it counts no more; the log keeps both', () => {
    const run = heldRun();
    run.put(set('re-inspect'));
    const seq = run.records.at(-1)?.seq ?? 0;
    run.put({ type: 'withdraw', check: null, entry: seq, web_m: null });
    expect(heldState(run.state(), '2', 2_000, 4_000).state).toBe('hold');
    expect(run.records.filter(({ type }) => type === 'hold')).toHaveLength(1);
  });

  test('a run that has ended still learns what became of its product; the hold is closed when all rolls are settled', () => {
    const run = heldRun();
    run.put({ type: 'end', web_m: 6_100 });
    const spans = holdSpans(run.state());
    expect(spans.every(isOpenHold)).toBe(true);
    for (const { from_m, to_m, rolls } of spans)
      for (const roll of rolls) {
        run.put({ type: 'hold', from_m, to_m: to_m ?? 0, rolls: [roll], state: 're-inspect' });
        run.put({ type: 'hold', from_m, to_m: to_m ?? 0, rolls: [roll], state: 'scrapped' });
      }
    expect(holdSpans(run.state()).some(isOpenHold)).toBe(false);
  });
});
