import { describe, expect, it } from 'vitest';
import {
  constants,
  cusumChart,
  ewmaChart,
  individualsChart,
  xbarRChart,
  xbarSChart,
} from '../../../src/core/spc/index.js';
import { must, refused } from './must.js';
import { PISTON_RINGS } from './piston-rings.js';
import { published, titleOf } from './published.js';

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

describe('means of groups', () => {
  it('piston rings: centre 74.00118, sigma 0.009785, limits 73.98805 and 74.0143 (documentation of R qcc, from memory)', () => {
    const chart = must(xbarRChart({}, PISTON_RINGS));
    expect(Math.abs(chart.centre - 74.00118)).toBeLessThan(5e-6);
    expect(Math.abs(chart.sigma - 0.009785)).toBeLessThan(5e-7);
    expect(Math.abs((chart.points[0]?.lower ?? 0) - 73.98805)).toBeLessThan(6e-6);
    expect(Math.abs((chart.points[0]?.upper ?? 0) - 74.0143)).toBeLessThan(6e-6);
  });
  it('range and sd charts follow from the constants: A2, A3, D4, B4 of 5', () => {
    const { A2, A3, D4, B4 } = constants(5);
    const byRange = must(xbarRChart({}, PISTON_RINGS));
    const bySd = must(xbarSChart({}, PISTON_RINGS));
    const ranges = byRange.result as { range_centre: number; range_upper: number; range_lower: number };
    const sds = bySd.result as { sd_centre: number; sd_upper: number };
    expect((byRange.points[0]?.upper ?? 0) - byRange.centre).toBeCloseTo(A2 * ranges.range_centre, 12);
    expect((bySd.points[0]?.upper ?? 0) - bySd.centre).toBeCloseTo(A3 * sds.sd_centre, 12);
    expect(ranges.range_upper).toBeCloseTo(D4 * ranges.range_centre, 12);
    expect(sds.sd_upper).toBeCloseTo(B4 * sds.sd_centre, 12);
    expect(ranges.range_lower).toBe(0);
  });
  it('refuses in words', () => {
    expect(refused(xbarRChart({}, []))).toBe('there are no groups to chart');
    expect(refused(xbarRChart({}, [[1]]))).toContain('at least 2');
    expect(
      refused(
        xbarSChart({}, [
          [1, 2],
          [1, 2, 3],
        ]),
      ),
    ).toContain('group 2 has 3 readings, group 1 has 2');
    expect(
      refused(
        xbarSChart({}, [
          [1, 1],
          [2, 2],
        ]),
      ),
    ).toContain('no group scatters');
    expect(refused(xbarRChart({ width: 0 }, [[1, 2]]))).toContain('the width must be above 0');
  });
});

describe('what a chart cannot do is said', () => {
  it.each([
    ['no reading', individualsChart({}, []), 'there are no readings to chart'],
    ['one reading', individualsChart({}, [1]), 'one reading shows no scatter; give sigma'],
    ['no scatter', ewmaChart({}, [2, 2, 2]), 'the readings do not scatter (every moving range is 0); give sigma'],
    [
      'not a number',
      cusumChart({}, [1, Number.POSITIVE_INFINITY]),
      'reading 2 is Infinity, not a number; leave it blank if it is missing',
    ],
    ['a weight of 0', ewmaChart({ weight: 0 }, [1, 2]), 'the weight must lie above 0 and at most 1, got 0'],
    ['a sigma of 0', ewmaChart({ sigma: 0 }, [1, 2]), 'sigma must be above 0, got 0'],
    ['a slack below 0', cusumChart({ slack: -1 }, [1, 2]), 'the slack must be 0 or more sigmas, got -1'],
    [
      'a head start beyond the limit',
      cusumChart({ headStart: 5 }, [1, 2]),
      'the head start must lie from 0 to below the decision limit 5, got 5',
    ],
  ])('%s', (_name, result, words) => {
    expect(refused(result)).toBe(words);
  });
});
