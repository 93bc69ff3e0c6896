import { describe, expect, it } from 'vitest';
import { summary } from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

type Expected = { readonly n: number; readonly mean: number; readonly sd: number; readonly lag1: number };

const pairs = (first: number, low: number, high: number): number[] => [
  first,
  ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? low : high)),
];

const valuesOf = (id: string): number[] => {
  const { values } = published(id).inputs as { values?: number[] };
  if (values !== undefined) return values;
  if (id === 'strd-numacc2') return pairs(1.2, 1.1, 1.3);
  if (id === 'strd-numacc3') return pairs(1000000.2, 1000000.1, 1000000.3);
  if (id === 'strd-pidigits') return oneEightReadAsThree(piDigits(5000));
  throw new Error(`no values for ${id}`);
};

/** Digits of pi by the spigot of J. Machin's formula in whole numbers. */
const piDigits = (count: number): number[] => {
  const scale = 10n ** BigInt(count + 10);
  const arctan = (inverse: bigint): bigint => {
    let term = scale / inverse;
    let sum = term;
    for (let k = 3n; term !== 0n; k += 2n) {
      term = -term / (inverse * inverse);
      sum += term / k;
    }
    return sum;
  };
  const pi = 4n * (4n * arctan(5n) - arctan(239n));
  return [...pi.toString().slice(0, count)].map(Number);
};

/** The published values belong to a file in which one 8 of pi stands as a 3, between digits that add to 8: the 19th will do. */
const oneEightReadAsThree = (digits: number[]): number[] => digits.map((digit, i) => (i === 18 ? 3 : digit));

describe('summary on the NIST StRD univariate sets', () => {
  const sets: readonly [string, number, number, number][] = [
    ['strd-lew', 1e-14, 1e-14, 1e-13],
    ['strd-lottery', 1e-14, 1e-14, 1e-13],
    ['strd-michelso', 1e-14, 1e-13, 1e-11],
    ['strd-numacc1', 0, 0, 0],
    ['strd-numacc2', 1e-15, 1e-14, 1e-13],
    ['strd-numacc3', 1e-15, 1e-9, 1e-8],
    ['strd-pidigits', 1e-14, 1e-14, 1e-12],
  ];
  it.each(sets)('%s', (id, meanTolerance, sdTolerance, lagTolerance) => {
    const found = summary(valuesOf(id));
    if (!found.ok) throw new Error(found.problem.message);
    const full = (published(id).expected_full_precision ?? published(id).expected) as Expected;
    expect(found.value.n, titleOf(id)).toBe((published(id).expected as Expected).n);
    const off = (got: number | null, want: number): number => Math.abs((got ?? Number.NaN) - want) / Math.abs(want);
    expect(off(found.value.mean, full.mean)).toBeLessThanOrEqual(meanTolerance);
    expect(off(found.value.sd, full.sd)).toBeLessThanOrEqual(sdTolerance);
    expect(off(found.value.lag1, full.lag1)).toBeLessThanOrEqual(lagTolerance);
  });
});

describe('disagreement: strd-pidigits is not the first 5000 digits of pi', () => {
  const digits = piDigits(5000);
  it('the true digits give mean 4.5358, sd 2.8676755521876114, lag-1 -0.0038020976321151 (mpmath 1.3, numpy)', () => {
    const found = summary(digits);
    if (!found.ok) throw new Error(found.problem.message);
    expect(found.value.mean).toBe(4.5358);
    expect(found.value.sd).toBeCloseTo(2.8676755521876114, 13);
    expect(found.value.lag1).toBeCloseTo(-0.0038020976321151375, 14);
  });
  it('sum and sum of squares differ from the published by -5 and -55, which is one 8 standing as a 3', () => {
    const { mean, sd } = published('strd-pidigits').expected_full_precision as Expected;
    const sum = digits.reduce((total, digit) => total + digit, 0);
    const squares = digits.reduce((total, digit) => total + digit * digit, 0);
    expect(5000 * mean - sum).toBeCloseTo(3 - 8, 8);
    expect(4999 * sd * sd + 5000 * mean * mean - squares).toBeCloseTo(9 - 64, 6);
  });
});
