import { describe, expect, it } from 'vitest';
import {
  autocorrelation,
  batchMeans,
  correlatedEwma,
  ewma,
  ewmaRunLength,
  fitAutoregression,
  lagOneTest,
  limitForRunLength,
  movingRange,
  portmanteau,
  runMethod,
  seededNumbers,
} from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

const nile = (published('mann-kendall-nile').inputs as { values: number[] }).values;

describe('are the readings correlated?', () => {
  it(titleOf('ljung-box-nile'), () => {
    const one = published('ljung-box-nile');
    const want = one.expected as {
      acf: number[];
      Q_lag1: number;
      p_lag1: number;
      Q_lag10: number;
      BoxPierce_lag5: number;
    };
    const full = one.expected_full_precision as { Q1: number; Q10: number; p10: number };
    want.acf.forEach((r, lag) => {
      expect(autocorrelation(nile, lag)).toBeCloseTo(r, 12);
    });
    expect(portmanteau(nile, 1)?.statistic).toBeCloseTo(want.Q_lag1, 8);
    expect(portmanteau(nile, 1)?.statistic).toBeCloseTo(full.Q1, 10);
    expect(Math.abs((portmanteau(nile, 1)?.p ?? 0) / want.p_lag1 - 1)).toBeLessThan(1e-9);
    expect(portmanteau(nile, 10)?.statistic).toBeCloseTo(full.Q10, 9);
    expect(Math.abs((portmanteau(nile, 10)?.p ?? 0) / full.p10 - 1)).toBeLessThan(1e-9);
    expect(portmanteau(nile, 5)?.boxPierce).toBeCloseTo(want.BoxPierce_lag5, 8);
  });
  it('too few readings or no scatter: null, not 0', () => {
    expect(portmanteau([1, 2], 2)).toBeNull();
    expect(portmanteau([1, 1, 1, 1], 1)).toBeNull();
    expect(lagOneTest([1, 2, 3, 4])).toBeNull();
  });
  it('lag-1: Nile z by hand (0.49841 + 0.01) x 100 x root 99 / 98', () => {
    expect(lagOneTest(nile)?.z).toBeCloseTo((0.49840818413302895 + 0.01) * (100 / 98) * Math.sqrt(99), 9);
  });
  it('Nile flow at order 1: coefficient 0.4984 + (1 + 3 x 0.4984) / 100 (Kendall 1954)', () => {
    const fit = fitAutoregression(nile, 1);
    expect(fit.ok && fit.value.coefficients[0]).toBeCloseTo(0.49840818413302895 * 1.03 + 0.01, 12);
    expect(fitAutoregression([1, 2, 3]).ok).toBe(false);
    expect(fitAutoregression(Array.from({ length: 30 }, () => 1)).ok).toBe(false);
  });
  it('lag-1 of independent readings rejects at 5 % as often as it says (4000 series of 30, seed 7)', () => {
    const { normal } = seededNumbers(7);
    let rejected = 0;
    for (let i = 0; i < 4000; i += 1) {
      if ((lagOneTest(Array.from({ length: 30 }, normal))?.p ?? 1) < 0.05) rejected += 1;
    }
    const error = Math.sqrt((0.05 * 0.95) / 4000);
    console.log(`rejected ${rejected / 4000}, s.e. ${error.toFixed(4)}`);
    expect(Math.abs(rejected / 4000 - 0.05)).toBeLessThan(4 * error);
  });
});

const autoregressive = (normal: () => number, length: number, coefficient: number): number[] => {
  let now = normal() / Math.sqrt(1 - coefficient ** 2);
  return Array.from({ length }, () => {
    now = coefficient * now + normal();
    return now;
  });
};

describe('limits from the long-run variance (simulation)', () => {
  it('fit and batch means find the long-run sd 2 of AR(1) 0.5 (200 series of 1000, seed 8)', () => {
    const { normal } = seededNumbers(8);
    const fits: number[] = [];
    const batches: number[] = [];
    for (let i = 0; i < 200; i += 1) {
      const values = autoregressive(normal, 1000, 0.5);
      const fit = fitAutoregression(values);
      if (fit.ok) fits.push(fit.value.longRunSd);
      batches.push(batchMeans(values)?.longRunSd ?? Number.NaN);
    }
    const mean = (values: number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
    console.log(`long-run sd by fit ${mean(fits).toFixed(3)}, by batch means ${mean(batches).toFixed(3)}, true 2`);
    expect(Math.abs(mean(fits) - 2)).toBeLessThan(0.1);
    expect(Math.abs(mean(batches) - 2)).toBeLessThan(0.1);
  });
  it.each([0.5, 0, -0.3])('AR(1) %d: false notices within a factor 1.5 of one in 370 (seed 9)', (coefficient) => {
    const { normal } = seededNumbers(9);
    const weight = 0.2;
    const width = limitForRunLength((limit) => ewmaRunLength({ weight, width: limit }), 370, 3) ?? Number.NaN;
    const perSeries: number[] = [];
    let plainNotices = 0;
    for (let i = 0; i < 120; i += 1) {
      const values = autoregressive(normal, 3400, coefficient);
      const fit = fitAutoregression(values.slice(0, 400));
      if (!fit.ok) throw new Error(fit.problem.message);
      const config = { fit: fit.value, weight, width };
      let state = correlatedEwma.initial(config);
      let notices = 0;
      for (const value of values.slice(400)) {
        const step = correlatedEwma.step(config, state, value);
        state = step.signal === null ? step.state : { ...correlatedEwma.initial(config), recent: step.state.recent };
        if (step.signal !== null) notices += 1;
      }
      perSeries.push(notices / 3000);
      const range = movingRange(values.slice(0, 400));
      const plain = { target: fit.value.mean, sigma: range.ok ? range.value.sigma : 1, weight, width };
      plainNotices += runMethod(ewma, plain, values.slice(400)).steps.filter((step) => step.signal !== null).length;
    }
    const rate = perSeries.reduce((a, b) => a + b, 0) / perSeries.length;
    const error = Math.sqrt(perSeries.reduce((sum, one) => sum + (one - rate) ** 2, 0)) / perSeries.length;
    console.log(
      `coefficient ${coefficient}: rate x 370 = ${(rate * 370).toFixed(3)}, s.e. ${(error * 370).toFixed(3)}; ` +
        `readings outside without regard to it, x 370: ${((plainNotices / 360000) * 370).toFixed(1)}`,
    );
    expect(rate * 370).toBeLessThan(1.5);
    expect(rate * 370).toBeGreaterThan(1 / 1.5);
  });
});
