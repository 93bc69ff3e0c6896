import { describe, expect, it } from 'vitest';
import { restlessness } from '../../../src/core/drift/restless.js';

describe('how restless a press is', () => {
  it('three movements in a hundred readings: 2.5 times as likely (gamma prior and Poisson counts, by hand: 4 / 1.6)', () => {
    expect(restlessness({ movements: 3, readings: 100 })).toBeCloseTo(2.5, 12);
  });
  it('nothing is known: as usual', () => {
    expect(restlessness({ movements: 0, readings: 0 })).toBe(1);
  });
  it('hours of quiet are no promise, and a wild press has an end', () => {
    expect(restlessness({ movements: 0, readings: 10_000 })).toBe(1);
    expect(restlessness({ movements: 60, readings: 100 })).toBe(5);
  });
});
