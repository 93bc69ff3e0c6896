import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/core/result.js';
import { constants, cusumChart, ewmaChart, individualsChart } from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};
const close = (got: readonly (number | null)[], want: readonly number[], tolerance: number): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, i) => {
    expect(Math.abs((got[i] ?? Number.NaN) - value), `place ${i + 1}`).toBeLessThanOrEqual(tolerance);
  });
};

describe('individuals and moving range', () => {
  const id = 'nist-imr-flowrate';
  const { values } = published(id).inputs as { values: number[] };
  const full = published(id).expected_full_precision as Record<string, number>;
  const printed = published(id).expected as {
    mean: number;
    mrBar: number;
    ucl: number;
    lcl: number;
    movingRanges: number[];
  };
  it(`${titleOf(id)}: limits with the exact d2, full precision`, () => {
    const chart = must(individualsChart({}, values));
    const first = chart.points[0];
    expect(chart.centre).toBeCloseTo(full.mean ?? 0, 12);
    expect(first?.upper).toBeCloseTo(full.ucl_exact_d2 ?? 0, 10);
    expect(first?.lower).toBeCloseTo(full.lcl_exact_d2 ?? 0, 10);
    expect(chart.result.moving_range_mean).toBeCloseTo(full.mrBar ?? 0, 12);
    expect(chart.result.moving_range_upper).toBeCloseTo(full.mr_ucl_exact ?? 0, 7);
    close(chart.result.moving_ranges as number[], printed.movingRanges, 1e-9);
    expect(chart.points.flatMap((point) => point.signals)).toEqual([]);
  });
  it(`${titleOf(id)}: the page's limits, which round d2 to 1.128`, () => {
    const chart = must(individualsChart({ sigma: printed.mrBar / 1.128 }, values));
    expect(Math.abs((chart.points[0]?.upper ?? 0) - printed.ucl)).toBeLessThan(2e-4);
    const exact = must(individualsChart({ sigma: full.sigma_d2_1128 ?? 0 }, values));
    expect(exact.points[0]?.upper).toBeCloseTo(full.ucl ?? 0, 10);
    expect(exact.points[0]?.lower).toBeCloseTo(full.lcl ?? 0, 10);
    expect(Math.abs((exact.points[0]?.upper ?? 0) - printed.ucl)).toBeLessThanOrEqual(5e-5);
  });
  it('a missing reading keeps its place and takes two moving ranges with it', () => {
    const chart = must(individualsChart({}, [1, 2, null, 4, 3]));
    expect(chart.points.map((point) => point.value)).toEqual([1, 2, null, 4, 3]);
    expect(chart.points[2]).toEqual({ i: 3, value: null, statistic: null, lower: null, upper: null, signals: [] });
    expect(chart.result.moving_ranges).toEqual([1, null, null, 1]);
  });
});

describe('EWMA chart', () => {
  it(titleOf('nist-ewma'), () => {
    const { values, lambda_, target, s } = published('nist-ewma').inputs as {
      values: number[];
      lambda_: number;
      target: number;
      s: number;
    };
    const full = published('nist-ewma').expected_full_precision as {
      ewma: number[];
      ucl: number;
      lcl: number;
      ucl_exact_t: number[];
    };
    const printed = published('nist-ewma').expected as { ewma: number[]; ucl: number; lcl: number };
    const fixed = must(ewmaChart({ target, sigma: s, weight: lambda_, limits: 'fixed' }, values));
    close(
      fixed.points.map((point) => point.statistic),
      full.ewma,
      1e-11,
    );
    close(
      fixed.points.map((point) => point.statistic),
      printed.ewma,
      0.00501,
    );
    expect(fixed.points[0]?.upper).toBeCloseTo(full.ucl, 11);
    expect(fixed.points[0]?.lower).toBeCloseTo(full.lcl, 11);
    expect(Math.abs((fixed.points[0]?.upper ?? 0) - printed.ucl)).toBeLessThanOrEqual(1e-4);
    const exact = must(ewmaChart({ target, sigma: s, weight: lambda_ }, values));
    close(
      exact.points.map((point) => point.upper),
      full.ucl_exact_t,
      1e-11,
    );
    expect(fixed.points.flatMap((point) => point.signals)).toEqual([]);
  });
  it(titleOf('montgomery-ewma-example'), () => {
    const one = published('montgomery-ewma-example');
    const { values, lambda_, L, target, sigma } = one.inputs as {
      values: number[];
      lambda_: number;
      L: number;
      target: number;
      sigma: number;
    };
    const full = one.expected_full_precision as { ewma: number[]; ucl: number[]; lcl: number[] };
    const chart = must(ewmaChart({ target, sigma, weight: lambda_, width: L }, values));
    close(
      chart.points.map((point) => point.statistic),
      full.ewma,
      1e-11,
    );
    close(
      chart.points.map((point) => point.upper),
      full.ucl,
      1e-11,
    );
    close(
      chart.points.map((point) => point.lower),
      full.lcl,
      1e-11,
    );
    const signals = chart.points.flatMap((point) => (point.signals.length > 0 ? [point.i] : []));
    expect(signals).toEqual((one.expected as { signalPeriods: number[] }).signalPeriods);
  });
});

describe('tabular CUSUM', () => {
  it(titleOf('nist-cusum-tabular'), () => {
    const one = published('nist-cusum-tabular');
    const { values, target, k, h } = one.inputs as { values: number[]; target: number; k: number; h: number };
    const full = one.expected_full_precision as { sHigh: number[]; sLow: number[] };
    const printed = one.expected as { sHigh: number[]; sLow: number[]; signalGroups: number[] };
    const sigma = 0.635;
    const chart = must(cusumChart({ target, sigma, slack: k / sigma, decision: h / sigma }, values));
    close(
      chart.points.map((point) => point.high),
      full.sHigh,
      1e-10,
    );
    close(
      chart.points.map((point) => point.low),
      full.sLow,
      1e-10,
    );
    close(
      chart.points.map((point) => point.high),
      printed.sHigh,
      0.0051,
    );
    close(
      chart.points.map((point) => point.low),
      printed.sLow,
      0.0051,
    );
    expect(chart.points.flatMap((point) => (point.signals.length > 0 ? [point.i] : []))).toEqual(printed.signalGroups);
    expect(chart.result).toEqual({ signal_at: 14, since: 13, side: 'high' });
  });
});

describe('constants', () => {
  it(titleOf('control-chart-constants-exact'), () => {
    for (const row of published('control-chart-constants-exact').expected as Record<string, number>[]) {
      const found = constants(row.n ?? 0) as unknown as Record<string, number>;
      for (const [name, value] of Object.entries(row)) {
        expect(Math.abs((found[name] ?? Number.NaN) - value), `${name} of ${row.n}`).toBeLessThanOrEqual(1e-8);
      }
    }
  });
  it(`${titleOf('control-chart-constants-montgomery')}: d3 of 19 is printed .734, exact .7335`, () => {
    const one = published('control-chart-constants-montgomery');
    const { n } = one.inputs as { n: number[] };
    for (const [name, column] of Object.entries(one.expected as Record<string, number[]>)) {
      column.forEach((printed, i) => {
        const found = (constants(n[i] ?? 0) as unknown as Record<string, number>)[name] ?? Number.NaN;
        const half = name === 'c4' ? 0.00005 : 0.0005;
        if (name === 'd3' && n[i] === 19) expect(Math.abs(found - 0.73348)).toBeLessThan(5e-6);
        else expect(Math.abs(found - printed), `${name} of ${n[i]}`).toBeLessThanOrEqual(half + 1e-9);
      });
    }
  });
});
