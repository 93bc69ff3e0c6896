import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  binomialAtLeast,
  binomialLimits,
  countChart,
  gChart,
  laney,
  poissonAtLeast,
  poissonCusum,
  poissonCusumDecision,
  poissonCusumRunLength,
  poissonLowerLimit,
  poissonUpperLimit,
  tChart,
} from '../../../src/core/spc/index.js';
import { seeded } from '../../support/seeded.js';
import { must, near, refused, same } from './must.js';
import { published, titleOf } from './published.js';

describe('c chart', () => {
  it(titleOf('nist-c-chart-wafers'), () => {
    const { inputs, expected } = published('nist-c-chart-wafers') as unknown as {
      inputs: { counts: number[] };
      expected: { total: number; cbar: number; ucl: number; lcl: number; aboveUclIndex1: number[] };
    };
    const chart = must(countChart(inputs.counts, { kind: 'c', limits: 'fixed' }));
    expect(chart.result.total).toBe(expected.total);
    expect(chart.centre).toBe(expected.cbar);
    expect(chart.points[0]).toMatchObject({ upper: expected.ucl, lower: expected.lcl });
    // Wafer 3 (28) lies exactly on the limit and is inside.
    expect(chart.points.filter(({ signals }) => signals.length > 0).map(({ i }) => i)).toEqual(expected.aboveUclIndex1);
    // scipy 1.17 poisson.ppf(.00135), ppf(.99865) at mean 16; dispersion by numpy var(ddof=1)/16 and chi2.sf.
    expect(chart.points[0]?.exact).toEqual({ lower: 5, upper: 29 });
    expect(chart.result.dispersion_ratio).toBeCloseTo(1.578125, 12);
    expect(chart.result.dispersion_p).toBeCloseTo(0.0357080891904075, 12);
  });

  it(titleOf('c-chart-circuit'), () => {
    const {
      inputs,
      expected,
      expected_full_precision: full,
    } = published('c-chart-circuit') as unknown as {
      inputs: { counts: number[] };
      expected: { cbar: number; ucl: number; lcl: number };
      expected_full_precision: { cbar: number; ucl: number; lcl: number; outIndex1: number[] };
    };
    const chart = must(countChart(inputs.counts, { kind: 'c', limits: 'fixed' }));
    const [first] = chart.points;
    near(chart.centre, expected.cbar, 5e-6);
    near(first?.upper, expected.ucl, 5e-6);
    near(first?.lower, expected.lcl, 5e-6);
    same(chart.centre, full.cbar);
    same(first?.upper, full.ucl);
    same(first?.lower, full.lcl);
    expect(chart.result.outside_fixed).toEqual(full.outIndex1);
  });

  it('a missing count keeps its place and is no signal', () => {
    const chart = must(countChart([3, null, 5, 40], { kind: 'c' }));
    expect(chart.points.map(({ i, value }) => [i, value])).toEqual([
      [1, 3],
      [2, null],
      [3, 5],
      [4, 40],
    ]);
    expect(chart.points[1]).toEqual({ i: 2, value: null, statistic: null, lower: null, upper: null, signals: [] });
    expect(chart.points[3]?.signals).toEqual(['beyond-limits']);
  });

  it('zone rules are judged on the chance scale of each count', () => {
    const chart = must(countChart([4, 4, 4, 4, 4, 4, 4, 4, 9, 9, 9, 9], { kind: 'c', rules: ['eight-one-side'] }));
    expect(chart.points.filter(({ signals }) => signals.length > 0).map(({ i }) => i)).toEqual([8]);
  });
});

describe('u chart', () => {
  it(titleOf('u-chart-dyedcloth'), () => {
    const {
      inputs,
      expected,
      expected_full_precision: full,
    } = published('u-chart-dyedcloth') as unknown as {
      inputs: { counts: number[]; n: number[] };
      expected: { total: number; totalN: number; ubar: number };
      expected_full_precision: { ubar: number; u: number[]; ucl: number[]; lcl: number[]; z: number[] };
    };
    const chart = must(countChart(inputs.counts, { kind: 'u', size: inputs.n, limits: 'fixed' }));
    expect(chart.result).toMatchObject({ total: expected.total, total_size: expected.totalN });
    near(chart.centre, expected.ubar, 0.005);
    same(chart.centre, full.ubar);
    for (const [at, point] of chart.points.entries()) {
      same(point.statistic, full.u[at] ?? 0);
      same(point.upper, full.ucl[at] ?? 0);
      same(point.lower, full.lcl[at] ?? 0);
      const sd = chart.sigma / Math.sqrt(inputs.n[at] ?? 1);
      near(((point.statistic ?? 0) - chart.centre) / sd, full.z[at] ?? 0, 1e-12);
    }
  });

  it('exact limits are whole counts over the size', () => {
    const chart = must(countChart([14, 12, 20], { kind: 'u', size: [10, 8, 13] }));
    for (const point of chart.points)
      expect((point.upper ?? 0) * (point.size ?? 1)).toBeCloseTo(Math.round((point.upper ?? 0) * (point.size ?? 1)), 9);
  });
});

describe('p chart and over-dispersion', () => {
  const { counts, n } = published('laney-p-nist').inputs as { counts: number[]; n: number };
  const want = published('laney-p-nist').expected as { center: number; sigma_z: number; ucl: number; lcl: number };

  it(`${titleOf('laney-p-nist')}: with d2 rounded to 1.128 as the case has it`, () => {
    const se = Math.sqrt((want.center * (1 - want.center)) / n);
    const found = must(
      laney(
        counts.map((count) => ({ rate: count / n, standardError: se })),
        { centre: want.center, d2: 1.128 },
      ),
    );
    near(found.sigmaZ, want.sigma_z, 1e-9);
    near(found.limits[0]?.upper, want.ucl, 1e-9);
    near(found.limits[0]?.lower, want.lcl, 1e-9);
  });

  it('the chart carries the same limits with the exact d2, 0.03 % narrower', () => {
    const chart = must(countChart(counts, { kind: 'p', size: n }));
    same(chart.centre, want.center);
    near(chart.sigmaZ, (want.sigma_z * 1.128) / (2 / Math.sqrt(Math.PI)), 1e-9);
    // scipy binom.ppf(.00135), ppf(.99865) for 50 at 0.231333: 4 and 21.
    expect(chart.points[0]?.exact).toEqual({ lower: 4 / 50, upper: 21 / 50 });
    // NIST 6.3.3.2 prints limits 0.0524 and 0.4102 and samples 15 and 23 outside (from memory).
    near(chart.points[0]?.fixed?.lower, 0.0524, 5e-5);
    near(chart.points[0]?.fixed?.upper, 0.4102, 5e-4);
    expect(chart.result.outside_fixed).toEqual([15, 23]);
  });

  it('the dispersion test keeps its size: about 5 % of Poisson records below p = 0.05 (seeded)', () => {
    const source = seeded(11);
    const runs = 3000;
    let low = 0;
    for (let run = 0; run < runs; run += 1) {
      const counts = Array.from({ length: 25 }, () => poissonDraw(16, source.uniform));
      if ((must(countChart(counts, { kind: 'c' })).result.dispersion_p as number) < 0.05) low += 1;
    }
    const share = low / runs;
    const error = Math.sqrt((0.05 * 0.95) / runs);
    console.log(`dispersion p < 0.05: ${share} +- ${error}`);
    expect(Math.abs(share - 0.05)).toBeLessThan(3 * error);
  });
});

const poissonDraw = (mean: number, uniform: () => number): number => {
  let count = 0;
  for (let product = uniform(); product > Math.exp(-mean); product *= uniform()) count += 1;
  return count;
};

describe('exact limits', () => {
  it('signal at these counts (own table, checked with scipy poisson.sf): 4, 5, 6, 8, 12', () => {
    const table = [
      [0.25, 4, 0.00013],
      [0.5, 5, 0.00017],
      [1, 6, 0.00059],
      [2, 8, 0.0011],
      [4, 12, 0.00092],
    ] as const;
    for (const [mean, signalAt, chance] of table) {
      expect(poissonUpperLimit(mean, 0.00135) + 1, `mean ${mean}`).toBe(signalAt);
      near(poissonAtLeast(signalAt, mean), chance, 0.06 * chance);
    }
    expect(poissonUpperLimit(0, 0.00135)).toBe(0);
  });
  it('no limit is one too wide or one too tight, Poisson and binomial (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 3000, noNaN: true }),
        fc.constantFrom(1e-9, 0.00135, 0.025, 0.2),
        (mean, alpha) => {
          const upper = poissonUpperLimit(mean, alpha);
          expect(poissonAtLeast(upper + 1, mean)).toBeLessThanOrEqual(alpha);
          if (upper > 0) expect(poissonAtLeast(upper, mean)).toBeGreaterThan(alpha);
          const lower = poissonLowerLimit(mean, alpha);
          if (lower > 0) expect(1 - poissonAtLeast(lower, mean)).toBeLessThanOrEqual(alpha * (1 + 1e-6));
          expect(1 - poissonAtLeast(lower + 1, mean)).toBeGreaterThan(alpha * (1 - 1e-6));
        },
      ),
      { numRuns: 300, seed: 3 },
    );
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (items, share) => {
          const { lower, upper } = binomialLimits(items, share, 0.00135);
          expect(binomialAtLeast(upper + 1, items, share)).toBeLessThanOrEqual(0.00135);
          if (upper > 0) expect(binomialAtLeast(upper, items, share)).toBeGreaterThan(0.00135);
          expect(lower).toBeLessThanOrEqual(upper);
          expect(1 - binomialAtLeast(lower + 1, items, share)).toBeGreaterThan(0.00135 * (1 - 1e-6));
        },
      ),
      { numRuns: 200, seed: 4 },
    );
  });
});

describe('rare events', () => {
  it(titleOf('g-chart-formula'), () => {
    const { counts } = published('g-chart-formula').inputs as { counts: number[] };
    const want = published('g-chart-formula').expected as { center: number; ucl: number; lcl: number };
    const full = published('g-chart-formula').expected_full_precision as Record<string, number>;
    const fixed = must(gChart(counts, { limits: 'fixed' }));
    same(fixed.centre, want.center);
    same(fixed.points[0]?.upper, want.ucl);
    expect(fixed.points[0]?.lower).toBe(want.lcl);
    const exact = must(gChart(counts));
    expect(exact.points[0]?.upper).toBe(full.prob_ucl_q99865);
    expect(exact.points[0]?.lower).toBe(full.prob_lcl_q00135);
  });

  it(titleOf('t-chart-montgomery-failures'), () => {
    const { hours, power } = published('t-chart-montgomery-failures').inputs as { hours: number[]; power: number };
    const want = published('t-chart-montgomery-failures').expected as {
      y: number[];
      center: number;
      mrBar: number;
      ucl: number;
      lcl: number;
    };
    // The case divides the mean moving range by 1.128; so does this test. The default is the exact 1.128379.
    const chart = must(tChart(hours, { power, d2: 1.128 }));
    for (const [at, y] of want.y.entries()) near(chart.points[at]?.statistic, y, 1e-9);
    near(chart.centre, want.center, 1e-9);
    near(chart.result.mean_moving_range as number, want.mrBar, 1e-9);
    near(chart.points[0]?.upper, want.ucl, 1e-9);
    near(chart.points[0]?.lower, want.lcl, 1e-9);
  });

  it('refuses what is no gap', () => {
    expect(refused(gChart([1, 2.5]))).toContain('2.5');
    expect(refused(gChart([4]))).toContain('at least 2');
    expect(refused(gChart([0, 0, 0]))).toContain('no scatter');
    expect(refused(tChart([3, 0]))).toContain('above 0');
    expect(refused(tChart([3, 3, 3]))).toContain('no scatter');
  });
});

describe('count CUSUM', () => {
  const config = { rate: 1, changed: 2, decision: 3 };
  const fold = (counts: readonly number[]) => {
    let state = poissonCusum.initial(config);
    return counts.map((count) => {
      const step = poissonCusum.step(config, state, { count, exposure: 1 });
      state = JSON.parse(JSON.stringify(step.state));
      return step;
    });
  };

  it('sums the log-likelihood ratio by hand: 0, 3 ln 2 - 1, 7 ln 2 - 2', () => {
    const steps = fold([0, 3, 4]);
    expect(steps.map(({ point }) => point.statistic)).toEqual([
      0,
      expect.closeTo(3 * Math.log(2) - 1, 12),
      expect.closeTo(7 * Math.log(2) - 2, 12),
    ]);
    expect(steps.map(({ point }) => point.since)).toEqual([null, 2, 2]);
  });

  it('twice the labels with twice the flaws counts twice', () => {
    const once = fold([5]).at(-1)?.state;
    const twice = poissonCusum.step(config, poissonCusum.initial(config), { count: 10, exposure: 2 });
    expect(twice.point.statistic).toBeCloseTo(2 * (once?.sum ?? 0), 12);
  });

  it('run length of the Markov chain agrees with simulation within 3 standard errors', () => {
    for (const mean of [1, 2]) {
      const source = seeded(41 + mean);
      const lengths = Array.from({ length: 2500 }, () => {
        let state = poissonCusum.initial(config);
        for (let n = 1; ; n += 1) {
          const step = poissonCusum.step(config, state, { count: poissonDraw(mean, source.uniform), exposure: 1 });
          if (step.signal !== null) return n;
          state = step.state;
        }
      });
      const average = lengths.reduce((sum, length) => sum + length, 0) / lengths.length;
      const spread = Math.sqrt(lengths.reduce((sum, length) => sum + (length - average) ** 2, 0) / lengths.length);
      const error = spread / Math.sqrt(lengths.length);
      const computed = poissonCusumRunLength(config, 1, mean);
      console.log(`count CUSUM mean ${mean}: computed ${computed}, simulated ${average} +- ${error}`);
      expect(Math.abs(average - computed)).toBeLessThan(3 * error);
    }
  });

  it('the decision for an asked run length gives it, and the step below does not', () => {
    for (const [rate, changed, exposure, asked] of [
      [1, 2, 1, 200],
      [5, 3, 1, 500],
      [0.01, 0.03, 50, 200],
      [40, 50, 1, 370],
    ] as const) {
      const decision = poissonCusumDecision({ rate, changed }, exposure, asked) ?? 0;
      const at = (level: number): number =>
        poissonCusumRunLength({ rate, changed, decision: level }, exposure, rate * exposure);
      expect(at(decision)).toBeGreaterThanOrEqual(asked);
      expect(at(decision)).toBeLessThan(1.35 * asked);
      expect(at(0.9 * decision)).toBeLessThan(asked);
    }
  });

  it('throws on what is no sample', () => {
    const state = poissonCusum.initial(config);
    expect(() => poissonCusum.step(config, state, { count: 1.5, exposure: 1 })).toThrow(RangeError);
    expect(() => poissonCusum.step(config, state, { count: 1, exposure: 0 })).toThrow(RangeError);
    expect(() => poissonCusum.step(config, state, { count: Number.NaN, exposure: 1 })).toThrow(RangeError);
    expect(() => poissonCusum.initial({ rate: 1, changed: 1, decision: 3 })).toThrow(RangeError);
  });
});

describe('counts that cannot be charted', () => {
  it('says what is wrong', () => {
    expect(refused(countChart([3, 2.5], { kind: 'c' }))).toContain('2.5');
    expect(refused(countChart([3, -1], { kind: 'c' }))).toContain('-1');
    expect(refused(countChart([3], { kind: 'c' }))).toContain('at least 2');
    expect(refused(countChart([0, 0, 0], { kind: 'c' }))).toContain('all counts are 0');
    expect(refused(countChart([3, 4], { kind: 'u' }))).toContain('size');
    expect(refused(countChart([3, 4], { kind: 'u', size: [1, 0] }))).toContain('above 0');
    expect(refused(countChart([3, 4], { kind: 'p', size: 3 }))).toContain('4 bad items out of 3');
    expect(refused(countChart([3, 3], { kind: 'p', size: 3 }))).toContain('every item is bad');
    expect(refused(countChart([1, 1], { kind: 'p', size: 3.5 }))).toContain('whole number');
  });
});
