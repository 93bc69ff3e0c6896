import fc from 'fast-check';
import { mean as libraryMean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import {
  addReading,
  moments,
  momentsOf,
  normalQuantile,
  normalScore,
  normalSurvival,
} from '../../../src/core/spc/index.js';

const of = (values: readonly number[]) => momentsOf(values.reduce(addReading, moments.initial({})));
const pairs = (first: number, low: number, high: number): number[] => [
  first,
  ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? low : high)),
];
/** Digits that agree. */
const digits = (got: number, want: number): number => -Math.log10(Math.max(1e-16, Math.abs(got / want - 1)));

describe('moments', () => {
  it('are exact to the last bit of a double: against whole-number arithmetic, readings on a fine grid far from zero', () => {
    const value = fc.integer({ min: -2000, max: 2000 });
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 2, maxLength: 60 }),
        fc.constantFrom(0, 2 ** 20, 2 ** 40),
        (steps, far) => {
          const found = of(steps.map((step) => far + step / 256));
          const n = BigInt(steps.length);
          const sum = steps.reduce((total, step) => total + BigInt(step), 0n);
          const squares = steps.reduce((total, step) => total + BigInt(step) * BigInt(step), 0n);
          const variance = Number(n * squares - sum * sum) / Number(n * (n - 1n)) / 65536;
          expect(Math.abs((found.variance ?? Number.NaN) - variance)).toBeLessThanOrEqual(4e-16 * variance + 1e-30);
          expect(Math.abs((found.mean ?? Number.NaN) - (far + Number(sum) / Number(n) / 256))).toBeLessThanOrEqual(
            3e-16 * (far + 8),
          );
        },
      ),
    );
  });
  it('survive readings whose squares would overflow or vanish', () => {
    for (const size of [1e200, 1e-200, 1e307, 5e-310]) {
      expect(Math.abs((of([size, 3 * size, 2 * size]).sd ?? 0) / size - 1)).toBeLessThan(1e-12);
    }
    expect(of([1, 2, 3, 1e200]).sd).toBeCloseTo(5e199, -190);
    expect(of([0, 0, 1e-180, 0]).sd).toBeGreaterThan(0);
  });
  it('say nothing rather than 0 when there is nothing to say', () => {
    expect(of([])).toEqual({ n: 0, mean: null, variance: null, sd: null, min: null, max: null });
    expect(of([7])).toEqual({ n: 1, mean: 7, variance: null, sd: null, min: 7, max: 7 });
  });
  it('where a library is not accurate enough: simple-statistics on NIST StRD NumAcc3 and NumAcc4, sd 0.1', () => {
    // The doubles nearest to the decimal values have an sd of their own; this is what any method can at best give.
    const limits = [
      ['NumAcc3', pairs(1000000.2, 1000000.1, 1000000.3), 9],
      ['NumAcc4', pairs(10000000.2, 10000000.1, 10000000.3), 8],
    ] as const;
    for (const [name, values, least] of limits) {
      const ours = digits(of(values).sd ?? Number.NaN, 0.1);
      const theirs = digits(sampleStandardDeviation([...values]), 0.1);
      const theirMean = digits(libraryMean([...values]), values[0] ?? 0);
      console.log(
        `${name}: sd to ${ours.toFixed(1)} digits; simple-statistics ${theirs.toFixed(1)}, its mean ${theirMean.toFixed(1)}`,
      );
      expect(ours).toBeGreaterThan(least);
    }
  });
  it('a plain running update in doubles, and the school formula, lose what two doubles keep', () => {
    const steps = Array.from({ length: 1001 }, (_, i) => (i % 3) - 1);
    const values = steps.map((step) => 2 ** 44 + step);
    const exact = Math.sqrt(Number(1001n * 667n - 1n) / Number(1001n * 1000n));
    let mean = 0;
    let squares = 0;
    values.forEach((value, i) => {
      const away = value - mean;
      mean += away / (i + 1);
      squares += away * (value - mean);
    });
    const school = Math.sqrt(
      (values.reduce((a, b) => a + b * b, 0) - values.reduce((a, b) => a + b, 0) ** 2 / 1001) / 1000,
    );
    console.log(
      `digits of sd: two doubles ${digits(of(values).sd ?? 0, exact).toFixed(1)}, Welford in one double ` +
        `${digits(Math.sqrt(squares / 1000), exact).toFixed(1)}, school formula ${school}`,
    );
    expect(digits(of(values).sd ?? 0, exact)).toBeGreaterThan(14.5);
    expect(digits(Math.sqrt(squares / 1000), exact)).toBeLessThan(12);
  });
});

describe('the normal distribution far out (mpmath 1.3, 40 digits)', () => {
  it.each([
    [3, 0.001349898031630095],
    [8, 6.220960574271785e-16],
    [37, 5.725571222524049e-300],
  ])('normal upper tail at %d', (z, want) => {
    expect(digits(normalSurvival(z), want)).toBeGreaterThan(12);
  });
  it.each([
    [0.975, 1.959963984540054],
    [0.5, 0],
    [0.00135, -2.999976992703394],
    [1e-10, -6.361340902404056],
    [1e-20, -9.26234008979841],
    [1e-300, -37.0470963],
  ])('normal quantile at %d', (p, want) => {
    expect(Math.abs(normalQuantile(p) - want)).toBeLessThan(p < 1e-200 ? 1e-7 : 1e-14 * (1 + Math.abs(want)));
  });
  it('t = 12.7062047364 with 1 degree of freedom is as rare as z = 1.95996 (t table, 0.975)', () => {
    expect(normalScore(12.7062047364, 1)).toBeCloseTo(1.959963984540054, 9);
    expect(normalScore(-2.2281388519649385, 10)).toBeCloseTo(-1.959963984540054, 9);
    expect(normalScore(1e9, 3)).toBeGreaterThan(10);
  });
});
