import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawLoupe, loupeScale } from '../../src/ui/practice/loupe.js';
import { measureBack, measurePlain } from './measure-back.js';

describe('marks under the loupe', () => {
  const errors = fc.double({ min: -13, max: 13, noNaN: true });
  it('measured back from the characters they are the numbers, within half a dot', () => {
    fc.assert(
      fc.property(errors, errors, fc.boolean(), (along, across, right) => {
        const scale = loupeScale(along, across);
        const read = measureBack(drawLoupe(along, across, scale, right, false), scale, right);
        expect(Math.abs(read.along - along)).toBeLessThanOrEqual(scale.mm_per_dot / 2 + 1e-9);
        expect(Math.abs(read.across - across)).toBeLessThanOrEqual(scale.mm_per_dot / 2 + 1e-9);
      }),
    );
  });
  it('in plain ASCII within half a character', () => {
    fc.assert(
      fc.property(errors, errors, (along, across) => {
        const scale = loupeScale(along, across);
        const read = measurePlain(drawLoupe(along, across, scale, true, true), scale);
        expect(Math.abs(read.along - along)).toBeLessThanOrEqual(scale.mm_per_dot + 1e-9);
        expect(Math.abs(read.across - across)).toBeLessThanOrEqual(2 * scale.mm_per_dot + 1e-9);
      }),
    );
  });
  it('fine errors are drawn fine: 0.025 mm a dot up to 0.55 mm', () => {
    expect(loupeScale(0.55, -0.5).mm_per_dot).toBe(0.025);
    expect(loupeScale(0.56, 0).mm_per_dot).toBe(0.1);
    expect(loupeScale(6.7, 0).mm_per_dot).toBe(0.5);
  });
});
