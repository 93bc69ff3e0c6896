import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { HoldSet, HoldState } from '../../../src/core/record.js';
import { heldState, heldStretches } from '../../../src/core/run/held.js';
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

/** Repeat 304.8 mm, 3 around, 4 across: a metre is 12 / 0.3048 = 39.370 labels. */
describe('which rolls are held', () => {
  const good = { '2': 0, '3': 0, '4': 0, D: 0 };

  test('the roll that winds is held though no check named it: 200 m of it, 7 875 labels (by hand: 200 × 39.370, rounded up)', () => {
    const run = tryRun();
    run.check(1, 1_500, good);
    run.put({ type: 'finished', web_m: 2_000, roll: '1' });
    run.check(2, 3_500, { ...good, '3': 0.4 });
    run.put({ type: 'finished', web_m: 4_000, roll: '2' });
    run.put({ type: 'correction', station: '3', axis: 'along', move_mm: -0.4, teeth: 0, divisions: -20, web_m: 4_010 });
    run.check(3, 4_200, good);
    const parts = (): unknown =>
      holdSpans(run.state()).flatMap((span) => span.parts.map((p) => [p.roll, p.from_m, p.to_m, p.labels]));
    const held = [
      ['1', 1_500, 2_000, 19_686],
      ['2', 2_000, 4_000, 78_741],
      ['3', 4_000, 4_200, 7_875],
    ];
    expect(parts()).toEqual(held);
    expect(run.found.filter((f) => f.type === 'suspect').at(-1)).toMatchObject({ rolls: ['1', '2', '3'] });
    run.put({ type: 'finished', web_m: 6_000, roll: '3' });
    expect(parts()).toEqual(held);
    run.put({ type: 'end', web_m: 6_100 });
    expect(parts()).toEqual(held);
  });

  test('a knob turned and a roll taken off in make-ready, by the press counter, neither lengthen nor name a later hold', () => {
    const run = tryRun({ make_ready: true });
    run.put({ type: 'correction', station: '3', axis: 'along', move_mm: 0.4, teeth: 0, divisions: 20, web_m: 5_040 });
    run.put({ type: 'finished', web_m: 5_050, roll: '1' });
    run.put({ type: 'ok', web_m: 5_100, zero_m: 5_100, passed_by: 'MK', check: null, hold_to: 'aim' });
    run.check(1, 500, good);
    run.check(2, 1_000, { ...good, '3': 0.4 });
    run.check(3, 1_500, good);
    expect(holdSpans(run.state()).map((s) => [s.from_m, s.to_m, s.rolls])).toEqual([[500, 1_500, ['2']]]);
  });

  test('spans that touch stay two, each for its own reason, and a closed one is not "still going on"', () => {
    const run = tryRun();
    run.check(1, 500, good);
    run.check(2, 1_000, { ...good, '3': 0.4 });
    run.check(3, 1_500, good);
    run.check(4, 2_000, { ...good, '4': -0.3 });
    const spans = holdSpans(run.state());
    expect(spans.map((s) => [s.from_m, s.to_m])).toEqual([
      [500, 1_500],
      [1_500, null],
    ]);
    expect(spans[0]?.why.join()).toMatch(/^3 leaf 0.40 mm ahead at check 2 \(allowed 0.15 mm\); good again at check 3/);
    expect(spans[1]?.why.join()).toMatch(/^4 grey 0.30 mm behind at check 4 \(allowed 0.15 mm\); not good again yet/);
  });

  test('when the run ends, what waited for a good check ends with the web', () => {
    const run = tryRun();
    run.check(1, 500, good);
    run.check(2, 1_000, { ...good, '3': 0.4 });
    run.put({ type: 'end', web_m: 1_800 });
    expect(holdSpans(run.state()).map((s) => [s.from_m, s.to_m, s.rolls])).toEqual([[500, 1_800, ['1']]]);
  });

  test('a person may hold any roll or stretch; taken back, it is held no more', () => {
    const run = tryRun();
    run.check(1, 500, good);
    run.put({ type: 'finished', web_m: 2_000, roll: '1' });
    run.put({ type: 'finished', web_m: 4_000, roll: '2' });
    run.put({ type: 'held', rolls: ['2'], from_m: null, to_m: null, why: 'customer complaint 4711' });
    expect(holdSpans(run.state())).toMatchObject([
      { from_m: 2_000, to_m: 4_000, rolls: ['2'], why: ['held by MK: customer complaint 4711'] },
    ]);
    expect(() => run.put({ type: 'held', rolls: ['9'], from_m: null, to_m: null, why: 'x' })).toThrow(
      /There is no finished roll 9/,
    );
    expect(() => run.put({ type: 'held', rolls: ['2'], from_m: null, to_m: null, why: ' ' })).toThrow(/Say why/);
    run.put({ type: 'withdraw', check: null, entry: run.records.at(-1)?.seq ?? 0, web_m: null });
    expect(holdSpans(run.state())).toEqual([]);
  });

  test('every metre of every hold is in one part of one roll, and the parts are the whole of it', () => {
    const step = fc.record({
      kind: fc.constantFrom('good', 'good', 'out', 'off', 'turn', 'roll', 'hand'),
      m: fc.integer({ min: 1, max: 900 }),
      station: fc.constantFrom('2', '3', '4'),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 14 }), (steps) => {
        const run = tryRun();
        let m = 0;
        let roll = 0;
        for (const [i, { kind, m: on, station }] of steps.entries()) {
          m += on;
          if (kind === 'roll') run.put({ type: 'finished', web_m: m, roll: String(++roll) });
          else if (kind === 'turn')
            run.put({ type: 'correction', station, axis: 'along', move_mm: 0.1, teeth: 0, divisions: 5, web_m: m });
          else if (kind === 'hand') run.put({ type: 'held', rolls: [], from_m: m - on, to_m: m, why: 'complaint' });
          else if (kind === 'off') run.check(i + 1, m, { [station]: [null, null] }, { look: 'off' });
          else run.check(i + 1, m, { ...good, [station]: kind === 'out' ? 0.5 : 0 });
        }
        const { judged, held_by_hand } = run.state();
        const parts = heldStretches({ judged, held_by_hand }).flatMap((s) => s.parts);
        for (let i = 1; i < parts.length; i += 1)
          expect(parts[i]?.from_m).toBeGreaterThanOrEqual(parts[i - 1]?.to_m ?? Infinity);
        const covered = (at: number): boolean => parts.some((p) => at > p.from_m && at <= (p.to_m ?? Infinity));
        const holds = [...judged.holds.ended, ...judged.holds.open];
        for (const { from, to } of holds)
          for (const share of [0.001, 0.5, 1])
            expect(covered(from.web_m + share * ((to?.web_m ?? m + 1) - from.web_m))).toBe(true);
        for (const part of parts) expect(part.reasons.length).toBeGreaterThan(0);
      }),
      { seed: 18, numRuns: 40 },
    );
  });
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
    expect(span?.parts.find(({ roll }) => roll === '2')?.state).toBe('released');
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
