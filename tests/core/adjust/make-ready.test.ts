import { describe, expect, it } from 'vitest';
import { type MakeReadyKnown, type MakeReadyPlan, makeReadyPlan } from '../../../src/core/adjust/make-ready.js';
import type { PlanInput } from '../../../src/core/adjust/plan-input.js';
import { inputOf, knobOf, stationOf } from './press-under-test.js';

/** Levels of 2, 3, ... and the die, read twice unless said otherwise. */
const plan = (
  along: readonly number[],
  across: readonly number[],
  over: Partial<PlanInput> = {},
  more: { fixed?: readonly string[]; known?: Readonly<Record<string, Partial<MakeReadyKnown>>>; knob?: object } = {},
): MakeReadyPlan => {
  const fixed = more.fixed ?? ['across'];
  const of = (axis: 'along' | 'across', levels: readonly number[]): PlanInput => {
    const base = inputOf(levels.slice(0, -1), { resolution_mm: 0.01, ...over, axis });
    const die = stationOf('D', levels.at(-1) ?? 0, { kind: 'die', fixed: fixed.includes(axis), tolerance_mm: 0.4 });
    return { ...base, stations: [...base.stations, die].map((s) => ({ ...s, knob: knobOf(more.knob) })) };
  };
  const told: MakeReadyKnown = { labels: 2, doubted: false, slack_mm: 0, last: null, pending_mm: 0 };
  const known = Object.fromEntries(['1', '2', '3', '4', 'D'].map((id) => [id, { ...told, ...more.known?.[id] }]));
  const none = Object.fromEntries(['1', '2', '3', '4', 'D'].map((id) => [id, told]));
  return makeReadyPlan({
    inputs: { along: of('along', along), across: of('across', across) },
    known: { along: known, across: none },
    bring_in: 1 / 3,
  });
};

const told = (p: MakeReadyPlan) => p.moves.map((m) => [m.station, m.axis, m.teeth, m.divisions, m.turn]);

// Order of registering and teeth before knob: common practice, no source.
describe('the plan of make-ready', () => {
  it('turns all that is off after one sample, the reference left where it is', () => {
    expect(told(plan([0.4, 0.02, -0.1], [0, 0.2, 0]))).toEqual([
      ['3', 'across', 0, 10, 'to gear side'],
      ['2', 'along', 0, 20, 'retard'],
    ]);
  });

  it('teeth at one stop, walking along the press, with what is left by knob; then knobs, the farthest first', () => {
    const p = plan([10, -6.5, 0.9], [0, 0, 0]);
    expect(told(p)).toEqual([
      ['2', 'along', 3, 24, 'retard'],
      ['3', 'along', 2, 7, 'advance'],
      ['D', 'along', 0, 45, 'retard'],
    ]);
  });

  it('what is inside a third is in; up to half of it is turned only where another sample comes anyway', () => {
    expect(plan([0.04, -0.03, 0], [0, 0, 0]).ready).toBe(true);
    expect(plan([0.07, 0, 0], [0, 0, 0])).toMatchObject({ ready: true, moves: [] });
    expect(plan([0.07, 0.3, 0], [0, 0, 0]).moves.map((m) => m.station)).toEqual(['3', '2']);
  });

  it('a near thing read once is read again, not turned; a doubted reading too', () => {
    const near = plan([0.09, 0, 0], [0, 0, 0], {}, { known: { '2': { labels: 1 } } });
    expect(near).toMatchObject({ moves: [], read_again: ['2'], ready: false });
    const doubted = plan([2.4, 0.3, 0], [0, 0, 0], {}, { known: { '2': { labels: 1, doubted: true } } });
    expect(doubted.read_again).toEqual(['2']);
    expect(doubted.moves.map((m) => m.station)).toEqual(['3']);
  });

  it('a fixed die that is off is met by the reference and by all others; one that is near enough is not', () => {
    const p = plan([0, 0, 0], [0, 0, 0.5]);
    expect(p.met).toBe('D');
    expect(told(p)).toEqual(['1', '3', '2'].map((id) => [id, 'across', 0, 25, 'to operator side']));
    expect(plan([0, 0, 0], [0, 0, 0.12]).ready).toBe(true);
  });

  it('a row that is off alike is one turn of the reference, and only then', () => {
    expect(told(plan([0.3, 0.3, 0.3], [0, 0, 0]))).toEqual([['1', 'along', 0, 15, 'advance']]);
    expect(plan([0.3, 0, 0.3], [0, 0, 0]).moves.map((m) => m.station)).toEqual(['D', '2']);
  });

  it('nothing is stopped for a tooth that the knob reaches, once there is no other', () => {
    expect(told(plan([2, 0, 0], [0, 0, 0]))).toEqual([['2', 'along', 0, 100, 'retard']]);
    expect(plan([2, 9, 0], [0, 0, 0]).moves.map((m) => m.teeth)).toEqual([1, 3]);
  });

  it('a side move on helical gears is first and is taken into the move along', () => {
    const p = plan([0, 0, 0], [1, 0, 0], { helix_deg: 15 });
    // 1.00 to the gear side shifts along by tan 15° = 0.268 back: that is advanced.
    expect(told(p)).toEqual([
      ['2', 'across', 0, 50, 'to gear side'],
      ['2', 'along', 0, 13, 'advance'],
    ]);
  });

  it('stands until it is done: what was turned is ticked off, the rest still asked for', () => {
    const p = plan([0.4, -0.3, 0], [0, 0, 0], {}, { known: { '2': { pending_mm: -0.4 } } });
    expect(p.done).toEqual([{ station: '2', axis: 'along' }]);
    expect(told(p)).toEqual([['3', 'along', 0, 15, 'advance']]);
    expect(p.ready).toBe(false);
  });

  it('a knob that goes back is asked for its slack as well', () => {
    const p = plan([0.4, 0, 0], [0, 0, 0], {}, { known: { '2': { slack_mm: 0.06, last: 1 } } });
    expect(told(p)).toEqual([['2', 'along', 0, 23, 'retard']]);
  });

  it('a whole tooth on a knob without divisions is a tooth and no more', () => {
    const p = plan([3.19, 9, 0], [0, 0, 0], {}, { knob: { division_mm: null } });
    expect(p.moves.find((m) => m.station === '2')).toMatchObject({ teeth: 1, divisions: 0, move_mm: -3.175 });
  });

  it('says what cannot be brought in, and what was not read', () => {
    const p = plan([0, 0, 0], [0, 0, 0], {}, { fixed: [] });
    expect(p.ready).toBe(true);
    const gone = plan([0, 0, 0], [9, 0, 0]);
    expect(gone.stuck).toEqual([{ station: '2', axis: 'across' }]);
    expect(gone.ready).toBe(false);
  });
});
