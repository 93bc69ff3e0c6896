import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moduloRepeat, type Reach, splitMove, travelLeft } from '../../../src/core/adjust/gears.js';
import { helixShift } from '../../../src/core/adjust/helix.js';

const IN = 25.4;
const eighth: Reach = { tooth_mm: 3.175, repeat_mm: 304.8, division_mm: null, travel_mm: null, used_mm: 0 };
const knob: Reach = { ...eighth, division_mm: 0.05, travel_mm: 3 };

// TRADE, check values: derived for this project (round, modulo); registering practice: common practice, no source.
describe('teeth and knob', () => {
  it('+0.410 in on 1/8 in CP: 3 teeth and +0.035 in by knob', () => {
    const split = splitMove(0.41 * IN, eighth);
    expect(split.teeth).toBe(3);
    expect(split.knob_mm / IN).toBeCloseTo(0.035, 9);
  });
  it('3 teeth of 1/8 in CP are 0.375 in', () => expect((3 * 3.175) / IN).toBeCloseTo(0.375, 12));
  it('−0.060 in: no tooth, knob −0.060', () => {
    const split = splitMove(-0.06 * IN, eighth);
    expect([split.teeth, split.knob_mm / IN]).toEqual([0, expect.closeTo(-0.06, 9)]);
  });
  it('11.90 in of a 12 in repeat is −0.10 in', () => {
    const split = splitMove(11.9 * IN, eighth);
    expect(split.move_mm / IN).toBeCloseTo(-0.1, 9);
  });
  it('a whole repeat is no move, half a repeat is +P/2 either way', () => {
    expect(moduloRepeat(304.8, 304.8)).toBe(0);
    expect(moduloRepeat(-152.4, 304.8)).toBe(152.4);
    expect(moduloRepeat(152.4, 304.8)).toBe(152.4);
  });
  it('a tooth retard and 61 divisions advance is 0.125 mm back when the knob has no travel left that way', () => {
    const split = splitMove(-0.125, { ...knob, used_mm: -3 });
    expect(split.teeth).toBe(-1);
    expect(split.divisions).toBe(61);
    expect(split.move_mm).toBeCloseTo(-0.125, 9);
  });
  it('rounds to the nearest whole division', () => {
    expect(splitMove(-0.062, { ...knob, division_mm: 0.02 }).divisions).toBe(-3);
    expect(splitMove(0.075, knob).divisions).toBe(1);
    expect(splitMove(0.0249, knob).divisions).toBe(0);
  });
  it('side to side has no teeth and no repeat', () => {
    const split = splitMove(4.2, { tooth_mm: null, repeat_mm: null, division_mm: 0.05, travel_mm: 5, used_mm: 0 });
    expect([split.teeth, split.divisions]).toEqual([0, 84]);
  });
  it('goes as far as it can and says what is missing when nothing reaches', () => {
    const split = splitMove(4.2, { tooth_mm: null, repeat_mm: null, division_mm: 0.05, travel_mm: 5, used_mm: 4 });
    expect(split.out_of_travel).toBe(true);
    expect(split.move_mm).toBeCloseTo(1, 9);
    expect(split.short_mm).toBeCloseTo(3.2, 9);
  });
});

describe('for any move, knob and travel', () => {
  const reach = fc.record({
    tooth_mm: fc.constantFrom(3.175, 6.35, 2.49364, Math.PI),
    teeth: fc.integer({ min: 40, max: 200 }),
    division_mm: fc.constantFrom(0.01, 0.02, 0.05, 0.1),
    travel_mm: fc.double({ min: 0.2, max: 6, noNaN: true }),
    used: fc.double({ min: -1, max: 1, noNaN: true }),
  });
  const make = (r: {
    tooth_mm: number;
    teeth: number;
    division_mm: number;
    travel_mm: number;
    used: number;
  }): Reach => ({
    tooth_mm: r.tooth_mm,
    repeat_mm: r.tooth_mm * r.teeth,
    division_mm: r.division_mm,
    travel_mm: r.travel_mm,
    used_mm: r.used * r.travel_mm,
  });
  const move = fc.double({ min: -120, max: 120, noNaN: true });
  it('never goes beyond the travel left', () => {
    fc.assert(
      fc.property(move, reach, (wanted, r) => {
        const at = make(r);
        const [back, forth] = travelLeft(at.travel_mm, at.used_mm);
        const split = splitMove(wanted, at);
        expect(split.knob_mm).toBeGreaterThanOrEqual(back - 1e-8);
        expect(split.knob_mm).toBeLessThanOrEqual(forth + 1e-8);
      }),
    );
  });
  it('misses by no more than half a division when it did not run out of travel', () => {
    fc.assert(
      fc.property(move, reach, (wanted, r) => {
        const at = make(r);
        const split = splitMove(wanted, at);
        if (!split.out_of_travel) expect(Math.abs(split.short_mm)).toBeLessThanOrEqual(r.division_mm / 2 + 1e-8);
        expect(split.move_mm + split.short_mm).toBeCloseTo(moduloRepeat(wanted, at.repeat_mm ?? 1), 7);
      }),
    );
  });
  it('the mirrored move on the mirrored knob is the mirrored turn', () => {
    fc.assert(
      fc.property(move, reach, (wanted, r) => {
        const a = splitMove(wanted, make(r));
        const b = splitMove(-wanted, make({ ...r, used: -r.used }));
        expect(b.teeth).toBe(-a.teeth + 0);
        expect(b.divisions).toBe(-(a.divisions ?? 0) + 0);
      }),
    );
  });
  it('the same in inches', () => {
    fc.assert(
      fc.property(move, reach, (wanted, r) => {
        const at = make(r);
        const inch = (mm: number | null): number | null => (mm === null ? null : mm / IN);
        const other: Reach = {
          tooth_mm: inch(at.tooth_mm),
          repeat_mm: inch(at.repeat_mm),
          division_mm: inch(at.division_mm),
          travel_mm: inch(at.travel_mm),
          used_mm: at.used_mm / IN,
        };
        expect(splitMove(wanted / IN, other).teeth).toBe(splitMove(wanted, at).teeth);
      }),
    );
  });
});

describe('helical gears', () => {
  it('15°, 0.010 in side move: 0.00268 in along (TRADE, tan)', () =>
    expect(helixShift(0.01, 15)).toBeCloseTo(0.00268, 5));
  it('0.13, 0.27, 0.36 per unit at 7.5, 15, 20° (TRADE section 3)', () => {
    expect([7.5, 15, 20].map((deg) => Number(helixShift(1, deg).toFixed(2)))).toEqual([0.13, 0.27, 0.36]);
  });
});
