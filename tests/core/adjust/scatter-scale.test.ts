import { describe, expect, it } from 'vitest';
import { scatterScale } from '../../../src/core/adjust/scatter-scale.js';
import { seeded } from '../../support/seeded.js';

const times = (square: number): number => Math.sqrt(square);
/** Differences of normal readings, drawn apart from the method. */
const drawn = (n: number, factor: number, seed: number) => {
  const { normal } = seeded(seed);
  return Array.from({ length: n }, () => ({ mm: normal() * 0.03 * factor, believed_mm: 0.03 }));
};

describe('how much readings scatter against what the job says', () => {
  it('nothing read twice: as the job says', () => {
    expect(scatterScale([], 0.01)).toBe(1);
  });
  it('one pair changes little, however close or far', () => {
    expect(times(scatterScale([{ mm: 0, believed_mm: 0.03 }], 0.01))).toBeGreaterThan(0.8);
    expect(times(scatterScale([{ mm: 0.06, believed_mm: 0.03 }], 0.01))).toBeLessThan(1.5);
  });
  it('the docstring: ten differences a third as large', () => {
    const small = [0.13, 0.39, 0.67, 1.04, 1.64].flatMap((z) =>
      [z, -z].map((x) => ({ mm: x * 0.01, believed_mm: 0.03 })),
    );
    expect(scatterScale(small, 0.01)).toBeCloseTo(0.2, 2);
  });
  // Truth: the factor by which the differences were drawn larger or smaller than believed.
  it.each([1 / 3, 1 / 2, 1, 2, 3])('forty differences tell a factor of %f to a quarter', (factor) => {
    const found = times(scatterScale(drawn(40, factor, 7), 0.001));
    expect(found / factor).toBeGreaterThan(0.75);
    expect(found / factor).toBeLessThan(1.25);
  });
  it('a misread label among twenty does not make scatter', () => {
    const one = { mm: 0.7, believed_mm: 0.03 };
    expect(times(scatterScale([...drawn(20, 1, 8), one], 0.01))).toBeLessThan(1.3);
  });
});
