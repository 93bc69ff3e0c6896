import { describe, expect, it } from 'vitest';
import { type Guess, type ReadAfter, sharedMove } from '../../../src/core/adjust/shared-move.js';

const V = 0.03 ** 2;
const at = (mm: number, sd = 0.03, share = 1): Guess => ({ share, mm, variance: sd ** 2 });
/** Left alone: it would stand at 0 had the reference stayed. */
const still = (mm: number): ReadAfter => ({ expected: [at(0)], mm, variance: V });
/** Turned by 1.00 on a knob that may be marked the wrong way round. */
const turned = (mm: number): ReadAfter => ({
  expected: [at(1, 0.3, 0.96), at(-1, 0.3, 0.04)],
  mm,
  variance: V,
});
const PRIOR = [at(0.3, 0.1, 0.96), at(-0.3, 0.1, 0.04)];

describe('how far the reference really moved', () => {
  it('is what all others fell by; the mean of them, the weight of both readings', () => {
    const got = sharedMove(PRIOR, [still(-0.29), still(-0.31)]);
    expect(got?.mm).toBeCloseTo(0.3, 3);
    // The mean of two, each the difference of two of 0.03: 0.03 × √2 / √2.
    expect(Math.sqrt(got?.variance ?? 0)).toBeCloseTo(0.03, 3);
  });

  it('a station whose knob is marked the wrong way round does not pull it', () => {
    const got = sharedMove(PRIOR, [still(-0.3), turned(-1.3), turned(-1.3), turned(0.7)]);
    expect(got?.mm).toBeCloseTo(0.3, 1);
  });

  it('a misread label does not pull it', () => {
    expect(sharedMove(PRIOR, [still(-0.3), still(-0.28), still(5)])?.mm).toBeCloseTo(0.29, 2);
  });

  it('the reference itself marked the wrong way round is told by those left alone', () => {
    expect(sharedMove(PRIOR, [still(0.31), turned(1.3)])?.mm).toBeCloseTo(-0.31, 2);
  });

  it('with every other turned as well, the account that most agree with holds', () => {
    const got = sharedMove(PRIOR, [turned(0.72), turned(0.68), turned(-1.3), turned(0.7)]);
    expect(got?.mm).toBeCloseTo(0.3, 1);
  });

  it('nothing read tells nothing', () => {
    expect(sharedMove(PRIOR, [])).toBeNull();
  });
});
