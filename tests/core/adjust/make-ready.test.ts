import { describe, expect, it } from 'vitest';
import { makeReady } from '../../../src/core/adjust/make-ready.js';
import type { PlanInput } from '../../../src/core/adjust/plan-input.js';
import { inputOf, stationOf } from './press-under-test.js';

const press = (along: readonly number[], across: readonly number[], over: Partial<PlanInput> = {}, fixedDie = true) => {
  const of = (axis: 'along' | 'across', levels: readonly number[]): PlanInput => {
    const die = levels.at(-1) ?? 0;
    const base = inputOf(levels.slice(0, -1), { ...over, axis });
    return {
      ...base,
      stations: [
        ...base.stations,
        stationOf('D', die, { kind: 'die', fixed: fixedDie && axis === 'across', tolerance_mm: 0.4 }),
      ],
    };
  };
  return { along: of('along', along), across: of('across', across) };
};

// Order of registering: common practice, no source (TRADE section 4).
describe('order of bringing in', () => {
  it('the reference to the farthest first, then the next farthest to the reference', () => {
    const steps = makeReady(press([0.1, 0.2, 0.4], [0, 0, 0]));
    expect(steps.map((s) => s.moves.map((m) => [m.station, m.turn, m.divisions]))).toEqual([
      [['1', 'advance', 20]],
      [['3', 'advance', 10]],
      [['2', 'advance', 15]],
    ]);
    expect(steps[0]?.why).toContain('D');
  });
  it('everything is in register after all steps', () => {
    const along = [0.13, -0.22, 1.4];
    const steps = makeReady(press(along, [0.3, 0.1, -0.2]));
    const moved = (id: string, axis: string): number =>
      steps
        .flatMap((s) => s.moves)
        .filter((m) => m.station === id && m.axis === axis)
        .reduce((sum, m) => sum + m.move_mm, 0);
    along.forEach((level, i) => {
      const id = ['2', '3', 'D'][i] ?? '';
      expect(Math.abs(level + moved(id, 'along') - moved('1', 'along'))).toBeLessThanOrEqual(0.01 + 1e-9);
    });
  });
  it('side before along on helical gears, both in one step on spur gears', () => {
    const spur = makeReady(press([0.2, 0, 0], [0.3, 0, 0]));
    expect(spur.map((s) => s.moves.map((m) => m.axis))).toEqual([['across', 'along']]);
    const helical = makeReady(press([0.2, 0, 0], [0.3, 0, 0], { helix_deg: 15 }));
    expect(helical.map((s) => s.moves.map((m) => m.axis))).toEqual([['across'], ['along']]);
  });
  it('teeth, a sample, then the knob', () => {
    const steps = makeReady(press([10, 0, 0], [0, 0, 0]));
    expect(steps.map((s) => s.moves.map((m) => [m.teeth, m.divisions, m.turn]))).toEqual([
      [[3, 0, 'retard']],
      [[0, 24, 'retard']],
    ]);
  });
  it('a fixed die is never moved: the reference goes to it', () => {
    const steps = makeReady(press([0, 0, 0], [0, 0, 0.5]));
    expect(steps.flatMap((s) => s.moves.map((m) => m.station))).toEqual(['1', '3', '2']);
  });
  it('in register: nothing to do', () => expect(makeReady(press([0.005, -0.005, 0], [0, 0, 0]))).toEqual([]));
});
