import { describe, expect, it } from 'vitest';
import { knownOf } from '../../../src/core/adjust/response.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

/** Knobs nobody measured. */
const KNOBS = { along: { travel_mm: 5, while_running: true }, across: { travel_mm: 5, while_running: true } };

const turn = (run: TryRun, move_mm: number, web_m: number): void => {
  run.put({ type: 'correction', station: '2', axis: 'along', move_mm, teeth: 0, divisions: null, web_m });
};

/** Station 2 brought in from 1 mm behind by a knob that gives `gain` of what is asked, then OK. */
const broughtIn = (gain: number): TryRun => {
  const run = tryRun({ make_ready: true, press: { knobs: KNOBS } });
  run.check(1, 40, { '2': -1, '3': 0, '4': 0, D: 0 });
  turn(run, 1, 40);
  run.check(2, 60, { '2': -1 + gain, '3': 0, '4': 0.01, D: 0 });
  turn(run, (1 - gain) / Math.abs(gain), 60);
  run.check(3, 80, { '2': 0, '3': 0, '4': 0, D: 0.01 });
  run.put({ type: 'ok', passed_by: 'KM', web_m: 80, zero_m: null, hold_to: 'aim', check: 3 });
  return run;
};

describe('what a knob was found to do in make-ready', () => {
  it('is known to the run, and to runs after it', () => {
    const { gain, gain_sd, moves } = knownOf(broughtIn(0.6).state().judged.knobs['2']?.along ?? never());
    expect(moves).toBe(2);
    expect(gain.plus).toBeCloseTo(0.6, 1);
    expect(gain.minus).toBeCloseTo(0.6, 1);
    expect(gain_sd.plus).toBeLessThan(0.08);
  });

  it('is allowed for by the first advice', () => {
    const run = broughtIn(0.6);
    for (let n = 4; n <= 7; n++) run.check(n, 80 + (n - 3) * 2000, { '2': 0.3, '3': 0, '4': 0, D: 0 });
    const told = run.state().judged.movements.flatMap((m) => m.advice?.moves ?? []);
    // 0.3 ahead, by a knob that gives 60 %: half a millimetre.
    expect(told).toMatchObject([{ station: '2', turn: 'retard' }]);
    expect(Math.abs(told[0]?.move_mm ?? 0)).toBeGreaterThan(0.42);
  });

  it('a knob that goes the other way is asked for the other way', () => {
    const run = broughtIn(-0.8);
    expect(knownOf(run.state().judged.knobs['2']?.along ?? never()).sense).toBe(-1);
  });

  it('a knob not turned stays as it was', () => {
    expect(knownOf(broughtIn(0.6).state().judged.knobs['3']?.along ?? never()).moves).toBe(0);
  });
});

const never = (): never => {
  throw new Error('no such knob');
};
