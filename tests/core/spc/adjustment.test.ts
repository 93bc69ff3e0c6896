import { describe, expect, it } from 'vitest';
import {
  boundedAdjustment,
  type FunnelRule,
  funnel,
  funnelVariance,
  grubbs,
  integralControlRatio,
  percentile,
  summary,
} from '../../../src/core/spc/index.js';
import { seeded } from '../../support/seeded.js';
import { must, near, refused, same } from './must.js';
import { published, titleOf } from './published.js';

describe('bounded adjustment', () => {
  const table = published('bounded-adjustment-aai').expected as Record<
    string,
    Record<string, { AAI: number; pct: number }>
  >;
  const full = published('bounded-adjustment-aai').expected_full_precision as {
    lam: number;
    L_over_sigma: number;
    AAI: number;
    g: number;
    pct_sd: number;
  }[];

  it(`${titleOf('bounded-adjustment-aai')}: the printed table (rounded or truncated there)`, () => {
    for (const [lambda, row] of Object.entries(table)) {
      for (const [limit, want] of Object.entries(row)) {
        const found = boundedAdjustment(Number(lambda), Number(limit));
        near(found.readingsBetween, want.AAI, 1);
        near(found.percentWider, want.pct, 1);
      }
    }
  });

  it(`${titleOf('bounded-adjustment-aai')}: full precision, 10 digits`, () => {
    for (const row of full) {
      const found = boundedAdjustment(row.lam, row.L_over_sigma);
      same(found.readingsBetween, row.AAI, 1e-10);
      same(found.meanSquare, row.g, 1e-10);
      same(found.percentWider, row.pct_sd, 1e-10);
    }
  });

  it('refuses what is no scheme', () => {
    expect(() => boundedAdjustment(0, 1)).toThrow(RangeError);
    expect(() => boundedAdjustment(0.2, 0)).toThrow(RangeError);
  });
});

describe('correcting a share of every error', () => {
  it(titleOf('integral-control-sd-ratio'), () => {
    const want = published('integral-control-sd-ratio').expected as Record<string, Record<string, number>>;
    for (const [lambda, row] of Object.entries(want)) {
      for (const [gain, ratio] of Object.entries(row)) {
        near(integralControlRatio(Number(lambda), Number(gain)), ratio, 1e-12);
      }
    }
    expect(() => integralControlRatio(0.2, 2)).toThrow(RangeError);
    expect(() => integralControlRatio(-0.1, 0.5)).toThrow(RangeError);
  });
});

describe('the funnel', () => {
  it(titleOf('deming-rule2'), () => {
    expect(funnel(2, [1, 0, 0])).toEqual([1, -1, 0]);
    expect(funnelVariance(1, 9)).toBe(1);
    expect(funnelVariance(2, 9)).toBe(2);
    expect(funnelVariance(2, 1)).toBe(1);
    expect([funnelVariance(3, 9), funnelVariance(4, 9)]).toEqual([9, 9]);
    near(integralControlRatio(0, 1), Math.SQRT2, 1e-12);
    // The rules themselves, simulated, against those variances (seeded, 4 standard errors of a variance).
    const source = seeded(8);
    const runs = 4000;
    for (const rule of [1, 2, 3, 4] as const) {
      const k = 5;
      let squares = 0;
      for (let run = 0; run < runs; run += 1)
        squares += (funnel(rule, Array.from({ length: k }, source.normal))[k - 1] ?? 0) ** 2;
      const want = funnelVariance(rule, k);
      expect(Math.abs(squares / runs - want)).toBeLessThan(4 * want * Math.sqrt(2 / runs));
    }
  });

  it(titleOf('deming-funnel-rosetta'), () => {
    const { dx } = published('deming-funnel-rosetta').inputs as { dx: number[] };
    type Row = { mean: number; sd_sample?: number; sd_pop?: number };
    const want = published('deming-funnel-rosetta').expected as Record<string, Row>;
    const full = published('deming-funnel-rosetta').expected_full_precision as Record<string, Required<Row>>;
    for (const rule of [1, 2, 3, 4] as readonly FunnelRule[]) {
      const results = funnel(rule, dx);
      const { mean, sd } = must(summary(results));
      const population = sd * Math.sqrt((dx.length - 1) / dx.length);
      const printed = want[`rule${rule}`];
      const exact = full[`rule${rule}`];
      near(mean, printed?.mean ?? 0, rule === 4 ? 6e-5 : 6e-6);
      if (printed?.sd_sample !== undefined) near(sd, printed.sd_sample, 6e-6);
      if (printed?.sd_pop !== undefined) near(population, printed.sd_pop, 6e-5);
      near(mean, exact?.mean ?? 0, 1e-12);
      same(sd, exact?.sd_sample ?? 0, 1e-12);
      same(population, exact?.sd_pop ?? 0, 1e-12);
    }
  });
});

describe('outliers and percentiles', () => {
  it(titleOf('nist-grubbs-uranium'), () => {
    const { values, alpha } = published('nist-grubbs-uranium').inputs as { values: number[]; alpha: number };
    const want = published('nist-grubbs-uranium').expected as { G: number; critical: number; reject: boolean };
    const full = published('nist-grubbs-uranium').expected_full_precision as Record<string, number>;
    const found = must(grubbs(values, { side: 'max', alpha }));
    near(found.statistic, want.G, 1.1e-4); // NIST truncates 2.46876
    near(found.critical, want.critical, 5e-4);
    expect(found.outlier).toBe(want.reject);
    same(found.statistic, full.G ?? 0);
    same(found.critical, full.critical ?? 0, 1e-11);
    same(found.robustZ, full.robust_z_max ?? 0);
    expect(found).toMatchObject({ i: 8, value: 245.57 });
    expect(refused(grubbs([1, 2]))).toContain('at least 3');
    expect(refused(grubbs([2, 2, 2]))).toContain('no scatter');
  });

  it('the test calls a clean record an outlier alpha of the time (seeded)', () => {
    const source = seeded(31);
    const runs = 3000;
    let called = 0;
    for (let run = 0; run < runs; run += 1)
      if (must(grubbs(Array.from({ length: 12 }, source.normal))).outlier) called += 1;
    const error = Math.sqrt((0.05 * 0.95) / runs);
    console.log(`Grubbs false alarms: ${called / runs} +- ${error}`);
    expect(Math.abs(called / runs - 0.05)).toBeLessThan(3 * error);
  });

  it(titleOf('nist-percentile-wafers'), () => {
    const { values, p } = published('nist-percentile-wafers').inputs as { values: number[]; p: number };
    const want = published('nist-percentile-wafers').expected as Record<'R6' | 'R7' | 'R8', number>;
    const full = published('nist-percentile-wafers').expected_full_precision as Record<'R6' | 'R7' | 'R8', number>;
    for (const rule of ['R6', 'R7', 'R8'] as const) {
      near(must(percentile(values, p, rule)), want[rule], 5.1e-5);
      same(must(percentile(values, p, rule)), full[rule]);
    }
    expect(must(percentile([3], 0.2))).toBe(3);
    expect(must(percentile([1, 2, 3], 0))).toBe(1);
    expect(must(percentile([1, 2, 3], 1))).toBe(3);
    expect(refused(percentile([], 0.5))).toContain('at least 1');
    expect(refused(percentile([1], 1.5))).toContain('1.5');
  });
});
