import { describe, expect, it } from 'vitest';
import {
  capabilityOf,
  repeatedStep,
  steadiness,
  steadinessOfGroups,
  summary,
  xbarRChart,
} from '../../../src/core/spc/index.js';
import { seeded } from '../../support/seeded.js';
import { must, near, refused } from './must.js';
import { PISTON_RINGS } from './piston-rings.js';
import { published, titleOf } from './published.js';

describe('capability', () => {
  it(titleOf('capability-ci-formulas'), () => {
    const { n: sizes } = published('capability-ci-formulas').inputs as { n: number[] };
    const want = published('capability-ci-formulas').expected as Record<
      string,
      { Cp_ci: [number, number]; Cpk_ci: [number, number] }
    >;
    for (const n of sizes) {
      // Cp 1 and Cpk 2/3: tolerance of 6 sigma, mean one sigma off the middle.
      const found = must(capabilityOf({ n, mean: 1, sigma: 1 }, { lower: -3, upper: 3 }));
      const row = want[String(n)] ?? { Cp_ci: [0, 0], Cpk_ci: [0, 0] };
      expect(found.both?.value).toBe(1);
      near(found.nearest.value, 2 / 3, 1e-15);
      near(found.both?.low, row.Cp_ci[0], 1e-9);
      near(found.both?.high, row.Cp_ci[1], 1e-9);
      near(found.nearest.low, row.Cpk_ci[0], 1e-9);
      near(found.nearest.high, row.Cpk_ci[1], 1e-9);
    }
  });

  it('piston rings, 25 groups of 5 (data and printed indices: R package qcc, processCapability)', () => {
    const chart = must(xbarRChart({}, PISTON_RINGS));
    const mean = must(summary(PISTON_RINGS.flat())).mean;
    near(mean, 74.00118, 5e-6);
    near(chart.sigma, 0.009785039, 1e-6); // qcc rounds d2 to 2.326
    const found = must(capabilityOf({ n: 125, mean, sigma: chart.sigma }, { lower: 73.95, upper: 74.05 }));
    const printed = [
      [found.both, 1.703, 1.491, 1.915],
      [found.nearest, 1.663, 1.448, 1.878],
      [found.onTarget, 1.691, 1.48, 1.902],
    ] as const;
    for (const [index, value, low, high] of printed) {
      near(index?.value, value, 5e-4);
      near(index?.low, low, 5e-4);
      near(index?.high, high, 5e-4);
    }
    near(found.toLower?.value, 1.743, 5e-4);
    near(found.toUpper?.value, 1.663, 5e-4);
    const off = must(capabilityOf({ n: 125, mean, sigma: chart.sigma }, { lower: 73.95, upper: 74.05, target: 74.02 }));
    near(off.onTarget?.value, 0.7856, 5e-5);
    near(off.onTarget?.low, 0.6556, 5e-5);
    near(off.onTarget?.high, 0.9154, 5e-5);
  });

  it('piston rings with sigma 0.009887547 (printed by an earlier release of qcc): 1.686 and 1.646', () => {
    const found = must(capabilityOf({ n: 125, mean: 74.00118, sigma: 0.009887547 }, { lower: 73.95, upper: 74.05 }));
    near(found.both?.value, 1.686, 5e-4);
    near(found.nearest.value, 1.646, 5e-4);
    near(found.toLower?.value, 1.725, 5e-4);
  });

  it('12 readings in 3 groups, indices to 6 digits (R package qcc, its own tests)', () => {
    const readings = [10.0, 10.02, 9.98, 10.01, 10.03, 9.99, 10.01, 10.0, 9.97, 10.04, 10.02, 9.99];
    const groups = [0, 4, 8].map((from) => readings.slice(from, from + 4));
    const chart = must(xbarRChart({}, groups));
    const { mean, sd } = must(summary(readings));
    const tolerance = { lower: 9.9, upper: 10.1, target: 10.02 };
    const within = must(capabilityOf({ n: 12, mean, sigma: chart.sigma }, tolerance));
    const overall = must(capabilityOf({ n: 12, mean, sigma: sd }, tolerance));
    // qcc rounds d2(4) to 2.059 (exact 2.058751): 1.2e-4 relative in the within-group indices.
    const rows = [
      [within.both, 1.372667, 0.80846, 1.937713, 2e-4],
      [within.nearest, 1.304033, 0.727408, 1.880659, 2e-4],
      [within.onTarget, 1.167834, 0.650542, 1.686689, 2e-4],
      [overall.both, 1.612598, 0.949773, 2.27641, 1e-6],
      [overall.nearest, 1.531968, 0.864608, 2.199329, 1e-6],
      [overall.onTarget, 1.305161, 0.712493, 1.899988, 1e-6],
    ] as const;
    for (const [index, value, low, high, tolerance_] of rows) {
      near(index?.value, value, tolerance_ * value);
      near(index?.low, low, tolerance_ * 2 * value);
      near(index?.high, high, tolerance_ * 2 * value);
    }
  });

  it('one-sided tolerances give only the index that has its end', () => {
    const upper = must(capabilityOf({ n: 30, mean: 10, sigma: 1 }, { upper: 14 }));
    expect(upper).toMatchObject({ both: null, toLower: null, onTarget: null, nearest: { value: 4 / 3 } });
    const lower = must(capabilityOf({ n: 30, mean: 10, sigma: 1 }, { lower: 7 }));
    expect(lower).toMatchObject({ both: null, toUpper: null, nearest: { value: 1 } });
    expect(must(capabilityOf({ n: 30, mean: 10, sigma: 1 }, { upper: 9 })).nearest.value).toBeCloseTo(-1 / 3, 12);
  });

  it('says what is wrong', () => {
    expect(refused(capabilityOf({ n: 30, mean: 0, sigma: 1 }, {}))).toContain('tolerance');
    expect(refused(capabilityOf({ n: 30, mean: 0, sigma: 1 }, { lower: 2, upper: -2 }))).toContain('upside down');
    expect(refused(capabilityOf({ n: 30, mean: 0, sigma: 0 }, { lower: -2, upper: 2 }))).toContain('no scatter');
    expect(refused(capabilityOf({ n: 1, mean: 0, sigma: 1 }, { lower: -2, upper: 2 }))).toContain('at least 2');
    expect(refused(capabilityOf({ n: 9, mean: 0, sigma: 1 }, { lower: Number.NaN, upper: 2 }))).toContain('NaN');
  });

  it('95 % limits hold the true index about 95 times in 100 (seeded): pp exactly, the published cpm limits at least', () => {
    const source = seeded(17);
    const runs = 3000;
    const held = { pp: 0, ppk: 0, cpm: 0, close: 0 };
    const inside = (index: { low: number; high: number } | null, truth: number): number =>
      index !== null && index.low <= truth && truth <= index.high ? 1 : 0;
    for (let run = 0; run < runs; run += 1) {
      const { mean, sd } = must(summary(Array.from({ length: 25 }, () => source.normal())));
      const found = must(capabilityOf({ n: 25, mean, sigma: sd }, { lower: -4, upper: 6 }));
      held.pp += inside(found.both, 10 / 6);
      held.ppk += inside(found.nearest, 4 / 3);
      held.cpm += inside(found.onTarget, 10 / 6 / Math.SQRT2);
      held.close += inside(found.onTargetClose, 10 / 6 / Math.SQRT2);
    }
    const error = Math.sqrt((0.95 * 0.05) / runs);
    console.log(
      `coverage +- ${error}:`,
      Object.entries(held)
        .map(([name, count]) => `${name} ${count / runs}`)
        .join(', '),
    );
    expect(Math.abs(held.pp / runs - 0.95)).toBeLessThan(3 * error);
    expect(held.ppk / runs).toBeGreaterThan(0.93);
    expect(held.cpm / runs).toBeGreaterThan(0.95);
    expect(Math.abs(held.close / runs - 0.945)).toBeLessThan(0.02);
  });
});

describe('steadiness', () => {
  it('the piston rings are steady, in groups and one by one', () => {
    expect(steadinessOfGroups(PISTON_RINGS)).toEqual({ steady: true, why: [] });
    expect(steadiness(PISTON_RINGS.flat())).toEqual({ steady: true, why: [] });
  });

  it('a steady record is refused about once in 100 (seeded)', () => {
    const source = seeded(23);
    for (const n of [10, 30, 125]) {
      const runs = 1500;
      let single = 0;
      let grouped = 0;
      for (let run = 0; run < runs; run += 1) {
        if (steadiness(Array.from({ length: n }, source.normal)).steady === false) single += 1;
        const groups = Array.from({ length: n }, () => Array.from({ length: 4 }, source.normal));
        if (steadinessOfGroups(groups).steady === false) grouped += 1;
      }
      const error = Math.sqrt((0.01 * 0.99) / runs);
      console.log(`steady but refused, n ${n}: ${single / runs} single, ${grouped / runs} groups, +- ${error}`);
      expect(single / runs).toBeLessThan(0.02 + 3 * error);
      expect(grouped / runs).toBeLessThan(0.02 + 3 * error);
    }
  });

  it('a step of 3 sigma half way, a drift, a spike and over-adjusting are seen', () => {
    const source = seeded(29);
    const noise = Array.from({ length: 30 }, source.normal);
    const saw = (values: readonly number[]): string => steadiness(values).why.join(' ');
    expect(saw(noise)).toBe('');
    expect(saw(noise.map((e, at) => e + (at >= 15 ? 3 : 0)))).toContain('stepped or drifts');
    expect(saw(noise.map((e, at) => e + at * 0.15))).toContain('drifts');
    expect(saw(noise.map((e, at) => (at === 10 ? 9 : e)))).toContain('reading 11');
    expect(saw(noise.map((e, at) => e + (at % 2 === 0 ? 2 : -2)))).toContain('over-adjusted');
    const groups = Array.from({ length: 12 }, (_, at) => [0, 1, 2].map(() => source.normal() + (at === 5 ? 4 : 0)));
    expect(steadinessOfGroups(groups).why.join(' ')).toContain('groups differ');
    const wild = Array.from({ length: 12 }, (_, at) => [0, 1, 2].map(() => source.normal() * (at === 5 ? 9 : 1)));
    expect(steadinessOfGroups(wild).why.join(' ')).toContain('group 6 scatters');
  });

  it('readings that repeat on a coarse step are not refused for it (step 0.05; scatter 0.04 to 0.012, seeded)', () => {
    const source = seeded(37);
    const runs = 1500;
    for (const sd of [0.04, 0.02, 0.015, 0.012]) {
      let refusedCount = 0;
      for (let run = 0; run < runs; run += 1) {
        const values = Array.from({ length: 40 }, () => Math.round((source.normal() * sd) / 0.05) * 0.05);
        if (steadiness(values).steady === false) refusedCount += 1;
      }
      const error = Math.sqrt((0.01 * 0.99) / runs);
      console.log(`rounded to 0.05, scatter ${sd}: refused ${refusedCount / runs} +- ${error}`);
      expect(refusedCount / runs).toBeLessThan(0.03 + 3 * error);
    }
    expect(steadiness([5, 5, 5, 5, 5, 5, 5, 5, 20]).steady).toBe(false);
  });

  it('the step shows in readings that repeat: 0.05, and no step in readings that differ', () => {
    expect(repeatedStep([0.1, 0.05, 0.05, 0.1])).toBe(0.05);
    expect(repeatedStep([0.1, 0.15, 0.3])).toBe(0);
    expect(repeatedStep([3, 3, 6, 6, 12, 12])).toBe(3);
  });

  it('too few to tell is said, not guessed', () => {
    expect(steadiness([1, 2, 3]).steady).toBeNull();
    expect(
      steadinessOfGroups([
        [1, 2],
        [3, 4],
      ]).steady,
    ).toBeNull();
  });
});
