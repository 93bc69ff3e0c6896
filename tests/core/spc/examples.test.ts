import { describe, expect, it } from 'vitest';
import { absorbingTimes } from '../../../src/core/spc/absorbing-times.js';
import { fitChange } from '../../../src/core/spc/changepoint-fit.js';
import { cusumSignalChances } from '../../../src/core/spc/cusum-carried.js';
import { addDouble } from '../../../src/core/spc/double-double.js';
import {
  autocorrelation,
  batchMeans,
  constants,
  correlatedEwma,
  cusumRunLength,
  ewma,
  ewmaRunLength,
  gaussLegendre,
  limitForRunLength,
  movingRange,
  normalSurvival,
  rangeCdf,
  rangeMoments,
  readingStep,
  runMethod,
  seededNumbers,
  selfStarting,
  zoneOf,
  zoneRunLength,
} from '../../../src/core/spc/index.js';
import { solveLinear } from '../../../src/core/spc/linear-system.js';
import { readingsChain } from '../../../src/core/spc/readings-chain.js';
import { zoneChain } from '../../../src/core/spc/zone-chain.js';
import { must } from './must.js';

describe('the example each file gives', () => {
  it('numbers: sums, quadrature, equations', () => {
    expect(addDouble(addDouble([1e16, 0], 1), -1e16)[0]).toBe(1);
    const { nodes, weights } = gaussLegendre(5, 0, 1);
    expect(nodes.reduce((sum, x, i) => sum + (weights[i] ?? 0) * Math.exp(x), 0)).toBeCloseTo(Math.E - 1, 11);
    expect([...solveLinear([Float64Array.of(2, 1), Float64Array.of(1, 3)], Float64Array.of(3, 5))]).toEqual([0.8, 1.4]);
    expect(limitForRunLength((limit) => 1 / (2 * normalSurvival(limit)), 370.3983473449592, 2)).toBeCloseTo(3, 11);
    expect(autocorrelation([10000001, 10000003, 10000002], 1)).toBe(-0.5);
  });
  it('run lengths keep their digits however long: 1e20 moves, the plain chart at 8 sigmas, a shift of 50', () => {
    const times = absorbingTimes([Float64Array.of(0, 0.5), Float64Array.of(0.5, 0)], Float64Array.of(1e-20, 1e-20));
    expect(times[0]).toBeCloseTo(1e20, -8);
    expect(ewmaRunLength({ weight: 1, width: 8 }) * 2 * normalSurvival(8)).toBeCloseTo(1, 10);
    expect(cusumRunLength({ slack: 0.5, decision: 4, shift: 50 })).toBe(1);
    expect(cusumRunLength({ slack: 0.5, decision: 4, shift: -50, sides: 1 })).toBe(Number.POSITIVE_INFINITY);
    expect(cusumRunLength({ slack: 0.1, decision: 100, drift: 1 })).toBeCloseTo(14.1563, 3);
    expect(ewmaRunLength({ weight: 1e-6, width: 3 })).toBeNaN();
  });
  it('seeded numbers: a million normals have mean 0 and sd 1 within three standard errors (0.001, 0.0007)', () => {
    const { normal } = seededNumbers(1);
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < 1e6; i += 1) {
      const z = normal();
      sum += z;
      squares += z * z;
    }
    expect(Math.abs(sum / 1e6)).toBeLessThan(0.003);
    expect(Math.abs(Math.sqrt(squares / 1e6) - 1)).toBeLessThan(0.0022);
    expect(seededNumbers(1).normal()).toBe(seededNumbers(1).normal());
    expect(seededNumbers(1).normal()).not.toBe(seededNumbers(2).normal());
  });
  it('ranges: mean 2.325928947281 of five; upper 5 % point of four 3.633 (Harter 1960, from memory)', () => {
    expect(rangeMoments(5).mean).toBeCloseTo(2.325928947281, 11);
    expect(rangeCdf(3.633, 4)).toBeCloseTo(0.95, 4);
    expect(constants(5).D4).toBeCloseTo(2.114, 3);
    expect(() => rangeMoments(1)).toThrow(RangeError);
    expect(() => constants(2.5)).toThrow(RangeError);
    expect(constants(401).c4).toBeCloseTo(constants(400).c4 + (constants(400).c4 - constants(399).c4), 7);
  });
  it('zones, chains and runs', () => {
    const lines = { centre: 10, sigma: 1, width: 3 };
    expect([12, 12.1, 13.2, 9.5].map((value) => zoneOf(lines, value))).toEqual([2, 3, 4, -1]);
    expect(zoneChain(['beyond-limits', 'two-of-three'])?.next.length).toBe(7);
    const plain = zoneChain([]);
    expect(plain === null ? 0 : readingsChain(plain, true, false).next.length).toBe(9);
    expect(zoneRunLength({ rules: ['beyond-limits'], width: 6 })).toBeCloseTo(1 / (2 * normalSurvival(6)), -2);
    const chances = cusumSignalChances({ slack: 0.5, decision: 4 }, () => 0, { places: [0], mass: [1] }, 20_000);
    expect(chances.reduce((sum, chance, i) => sum + (i + 1) * chance, 0)).toBeCloseTo(335.367577627242, 5);
  });
  it('EWMA: limits 9.73 and 10.27 at first, 9.38 and 10.62 in the end; Lucas and Saccucci 500 and 10.5', () => {
    const { steps } = runMethod(
      ewma,
      { target: 10, sigma: 1, weight: 0.1, width: 2.7 },
      Array.from({ length: 200 }, () => 10),
    );
    expect(steps[0]?.point.upper).toBeCloseTo(10.27, 12);
    expect(steps[199]?.point.lower).toBeCloseTo(9.38, 2);
    expect(ewmaRunLength({ weight: 0.2, width: 2.962 })).toBeCloseTo(499.735, 3);
    expect(ewmaRunLength({ weight: 0.2, width: 2.962, shift: 1 })).toBeCloseTo(10.5, 1);
  });
  it('head start: Lucas and Crosier (1982) print 149 with no shift, 62.7 at 0.25 and 20.1 at 0.5 (from memory)', () => {
    const found = [0, 0.25, 0.5].map((shift) => cusumRunLength({ slack: 0.5, decision: 4, headStart: 2, shift }));
    expect(found.map((length) => Math.round(length * 10) / 10)).toEqual([148.7, 62.7, 20.1]);
  });
  it('moving range, self-starting score, a ramp, the step of a loupe', () => {
    expect(must(movingRange([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])).sigma).toBeCloseTo(
      1.6641,
      4,
    );
    expect(runMethod(selfStarting, {}, [49.6, 47.6, 49.9]).steps[2]?.point.statistic).toBeCloseTo(0.53868, 5);
    expect(fitChange([0, 0, 0, 0, 1, 1, 1], { n: 0, sum: 0 }, true, ['step'])).toMatchObject({
      length: 3,
      explained: 3,
    });
    expect(readingStep(0.05, 0.3, null)).toMatchObject({
      verdict: 'coarse',
      why: 'one step is 17 % of the tolerance, more than a tenth',
    });
  });
  it('correlated: coefficient 0.5, readings 1 then 0.5: new are 1 and 0', () => {
    const fit = { n: 100, mean: 0, coefficients: [0.5], sigma: 1, longRunSd: 2 };
    const { steps } = runMethod(correlatedEwma, { fit, weight: 1 }, [1, 0.5]);
    expect(steps.map((step) => step.point.statistic)).toEqual([1, 0]);
    expect(steps[1]?.point.expectedNext).toBe(0.25);
    expect(batchMeans([1, 2, 3, 4], 1)).toBeNull();
  });
});

describe('one-sided EWMA with reset at the target, head start and exact limits: run length against simulation (seed 51)', () => {
  it.each([
    { weight: 0.3, width: 2.5, shift: 0, sides: 1, limits: 'fixed', headStart: 0 },
    { weight: 0.1, width: 2, shift: 0.5, sides: 1, limits: 'fixed', headStart: 0.3 },
    { weight: 0.2, width: 2.5, shift: 0, sides: 1, limits: 'exact', headStart: 0 },
    { weight: 0.2, width: 2.5, shift: 0.3, sides: 2, limits: 'exact', headStart: 0 },
  ] as const)('%j', (options) => {
    const { normal } = seededNumbers(51);
    const config = { ...options, target: 0, sigma: 1 };
    const lengths = Array.from({ length: 6000 }, () => {
      let state = ewma.initial(config);
      for (let t = 1; ; t += 1) {
        const step = ewma.step(config, state, normal() + options.shift);
        state = step.state;
        if (step.signal !== null) return t;
      }
    });
    const mean = lengths.reduce((a, b) => a + b, 0) / lengths.length;
    const error = Math.sqrt(lengths.reduce((sum, length) => sum + (length - mean) ** 2, 0)) / lengths.length;
    const got = ewmaRunLength(options);
    console.log(`computed ${got.toFixed(3)}, simulated ${mean.toFixed(3)}, s.e. ${error.toFixed(3)}`);
    expect(Math.abs(got - mean)).toBeLessThan(4 * error);
  });
});
