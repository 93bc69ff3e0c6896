import { describe, expect, it } from 'vitest';
import { type Choosable, chooseMoves } from '../../../src/core/planner/choose-moves.js';
import type { Costs } from '../../../src/core/planner/expected-loss.js';
import { type Standing, standingAt } from '../../../src/core/planner/standing.js';
import { seeded } from '../../support/seeded.js';

const COSTS: Costs = { horizon_m: 2000, offset_m: 200, going_offset_m: 100, touch_m: 30 };
const TOLERANCE = 0.15;
const STEP = 0.02;

const station = (id: string, standing: Standing | null, more: Partial<Choosable> = {}): Choosable => ({
  id,
  standing,
  tolerance_mm: TOLERANCE,
  fixed: false,
  step_mm: STEP,
  ...more,
});
const at = (id: string, mm: number, more: Partial<Choosable> = {}): Choosable =>
  station(id, standingAt(mm, 0.015), more);
const NOTHING = { reference_mm: 0, stations: {}, saves_m: 0 };

describe('moves of least expected loss', () => {
  it('one station off is one knob, its own, by a whole number of divisions', () => {
    const chosen = chooseMoves([at('2', 0.01), at('3', 0.21), at('4', -0.01)], STEP, COSTS);
    expect(chosen.reference_mm).toBe(0);
    expect(Object.keys(chosen.stations)).toEqual(['3']);
    expect(chosen.stations['3']).toBeCloseTo(-0.2, 9);
    expect(chosen.saves_m).toBeGreaterThan(1000);
  });

  it('five stations off alike are one knob: the reference', () => {
    const five = ['2', '3', '4', '5', '6'].map((id, i) => at(id, -0.2 + 0.01 * (i - 2)));
    const chosen = chooseMoves(five, STEP, COSTS);
    expect(chosen.stations).toEqual({});
    expect(chosen.reference_mm).toBeCloseTo(-0.2, 9);
    // … and five knobs where the reference cannot be moved.
    const fixed = chooseMoves(five, 'fixed', COSTS);
    expect(fixed.reference_mm).toBe(0);
    expect(Object.keys(fixed.stations).sort()).toEqual(['2', '3', '4', '5', '6']);
    for (const mm of Object.values(fixed.stations)) expect(Math.abs(mm - 0.2)).toBeLessThan(0.031);
  });

  it('five alike and one by itself: the reference and that one', () => {
    const all = [...['2', '3', '4', '5', '6'].map((id) => at(id, 0.2)), at('7', -0.2)];
    const chosen = chooseMoves(all, STEP, COSTS);
    expect(chosen.reference_mm).toBeCloseTo(0.2, 9);
    expect(Object.keys(chosen.stations)).toEqual(['7']);
    expect(chosen.stations['7']).toBeCloseTo(0.4, 9);
  });

  it('two off opposite ways are each its own knob', () => {
    const chosen = chooseMoves([at('2', 0.2), at('3', 0), at('4', -0.2), at('5', 0)], STEP, COSTS);
    expect(chosen.reference_mm).toBe(0);
    expect(chosen.stations['2']).toBeCloseTo(-0.2, 9);
    expect(chosen.stations['4']).toBeCloseTo(0.2, 9);
    expect(Object.keys(chosen.stations)).toHaveLength(2);
  });

  it('what creeps is turned past its aim by seven tenths of what it goes until the next check, so that it is turned at every second one', () => {
    for (const way of [1, -1]) {
      const creeping: Standing = {
        weight: [1],
        now: [way * 0.12],
        nowVariance: [0.01 ** 2],
        next: [way * 0.24],
        nextVariance: [0.015 ** 2],
      };
      const chosen = chooseMoves([station('2', creeping), at('3', 0)], STEP, COSTS);
      expect(chosen.stations['2']).toBeCloseTo(-way * 0.2, 9);
      expect(chosen.reference_mm).toBe(0);
    }
  });

  it('what creeps is turned no farther past its aim than it stands off it, and left while it stands at it', () => {
    const creeping = (now: number): Standing => ({
      weight: [1],
      now: [now],
      nowVariance: [0.01 ** 2],
      next: [now + 0.12],
      nextVariance: [0.015 ** 2],
    });
    expect(chooseMoves([station('2', creeping(0)), at('3', 0)], STEP, COSTS).stations).toEqual({});
    expect(chooseMoves([station('2', creeping(0.05)), at('3', 0)], STEP, COSTS).stations['2']).toBeCloseTo(-0.1, 9);
  });

  it('a fixed station that is out is met by the reference and all others', () => {
    const die = at('D', 0.6, { fixed: true, tolerance_mm: 0.4 });
    const chosen = chooseMoves([at('2', 0), at('3', 0), at('4', 0), die], STEP, COSTS);
    expect(chosen.reference_mm).toBeGreaterThan(0.2);
    expect(Object.keys(chosen.stations).sort()).toEqual(['2', '3', '4']);
    for (const mm of Object.values(chosen.stations)) expect(mm).toBeCloseTo(chosen.reference_mm, 9);
    // Afterwards the die is surely inside: by two sd of where it stands and of what a knob gives.
    const left = Math.abs(0.6 - chosen.reference_mm);
    expect(left).toBeLessThan(0.4 - 2 * Math.hypot(0.015, 0.12 * chosen.reference_mm));
  });

  it('a fixed station is never turned, and one off inside its tolerance moves nothing else', () => {
    expect(
      chooseMoves([at('2', 0), at('3', 0), at('D', 0.2, { fixed: true, tolerance_mm: 0.4 })], STEP, COSTS),
    ).toEqual(NOTHING);
    const chosen = chooseMoves([at('2', 0.3, { fixed: true }), at('3', 0.3, { fixed: true })], 'fixed', COSTS);
    expect(chosen.stations).toEqual({});
    expect(chosen.reference_mm).toBe(0);
  });

  it('nothing is turned within a third of the tolerance, however many stations and however badly known', () => {
    const random = seeded(5);
    for (let n = 0; n < 300; n++) {
      const near = ['2', '3', '4', '5', '6'].map((id) =>
        station(id, standingAt((TOLERANCE / 3) * (2 * random.uniform() - 1), 0.05 * random.uniform())),
      );
      expect(chooseMoves(near, 'fixed', COSTS).stations).toEqual({});
      // Nor are the others for one that is out.
      const chosen = chooseMoves([...near, at('7', 0.4)], 'fixed', COSTS);
      expect(Object.keys(chosen.stations)).toEqual(['7']);
    }
    for (const sd of [0.005, 0.01, 0.02])
      expect(chooseMoves([station('2', standingAt(TOLERANCE / 3, sd)), at('3', 0)], STEP, COSTS)).toEqual(NOTHING);
  });

  it('a station never read is not turned, nor is anything turned where nothing was read', () => {
    expect(chooseMoves([station('2', null), station('3', null)], STEP, COSTS)).toEqual(NOTHING);
    const chosen = chooseMoves([station('2', null), at('3', 0.3)], STEP, COSTS);
    expect(Object.keys(chosen.stations)).toEqual(['3']);
  });

  it('where the accounts disagree it goes by the likely ones: not half the way to each', () => {
    const jumped: Standing = {
      weight: [0.6, 0.4],
      now: [0.4, 0],
      nowVariance: [0.015 ** 2, 0.015 ** 2],
      next: [0.4, 0],
      nextVariance: [0.015 ** 2, 0.015 ** 2],
    };
    const chosen = chooseMoves([station('2', jumped), at('3', 0)], STEP, COSTS);
    expect(chosen.stations['2']).toBeCloseTo(-0.4, 9);
  });

  it('no other choice loses less: every combination of reference and stations on a grid, by brute force', () => {
    const random = seeded(8);
    for (let n = 0; n < 12; n++) {
      const levels = [0, 1, 2].map(() => 0.5 * (random.uniform() - 0.5));
      const stations = levels.map((mm, i) => at(String(i + 2), Math.round(mm / STEP) * STEP));
      const chosen = chooseMoves(stations, STEP, COSTS);
      // Quadratic and tail parts of a station at x, as the mean over three places of a station that stays: the same thrice.
      const grid = Array.from({ length: 41 }, (_, i) => (i - 20) * STEP);
      let least = Infinity;
      for (const r of grid) least = Math.min(least, bestFor(stations, r, grid));
      const taken = bestFor(stations, chosen.reference_mm, grid);
      expect(taken).toBeLessThan(least + COSTS.touch_m / 2);
    }
  });
});

/** Least loss for this move of the reference: each station left, or turned to any place of the grid. */
const bestFor = (stations: readonly Choosable[], r: number, grid: readonly number[]): number => {
  let loss = r === 0 ? 0 : COSTS.touch_m;
  for (const s of stations) {
    const from = s.standing?.now[0] ?? 0;
    const left = lossAt(from - r, Math.abs(r));
    const near = Math.abs(from - r) <= TOLERANCE / 3;
    const turned = near
      ? Infinity
      : Math.min(...grid.map((m) => COSTS.touch_m + lossAt(from + m - r, Math.hypot(m, r))));
    loss += Math.min(left, turned);
  }
  return loss;
};

/** A knob turned by `turned` gives 12 % more or less. */
const lossAt = (mm: number, turned: number): number => {
  const v = 0.015 ** 2 + (0.12 * turned) ** 2;
  const sd = Math.sqrt(v);
  // Both tails by the midpoint rule over the density, 8 sd wide.
  let out = 0;
  for (let i = 0; i < 400; i++) {
    const z = -8 + (16 * (i + 0.5)) / 400;
    if (Math.abs(mm + z * sd) > TOLERANCE) out += (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * (16 / 400);
  }
  return COSTS.horizon_m * out + (COSTS.offset_m * (mm * mm + v)) / TOLERANCE ** 2;
};
