import { describe, expect, it } from 'vitest';
import { levelOf, slopeOf, startLevel } from '../../../src/core/drift/level-filter.js';
import { nextLevel } from '../../../src/core/drift/next-level.js';
import { likeliestMiddle, meanOf, type Standing, standingAt, standingOf } from '../../../src/core/planner/standing.js';

const SIGMA = 0.04;
const filterOf = (readings: readonly number[]) =>
  readings.reduce((f, r) => nextLevel(f, SIGMA, 1, 1, 0, r), startLevel(0, 0.01, SIGMA));
const meanNext = (s: Standing): number => s.weight.reduce((sum, w, i) => sum + w * (s.next[i] ?? 0), 0);
const total = (s: Standing): number => s.weight.reduce((a, b) => a + b, 0);

describe('where a station may stand', () => {
  const creeping = filterOf(Array.from({ length: 20 }, (_, i) => 0.02 * i));

  it('now is what the estimate says, corrections that no sample shows yet added', () => {
    const level = levelOf(creeping);
    const plain = standingOf(creeping, SIGMA, 1, 0, 0);
    expect(total(plain)).toBeCloseTo(1, 12);
    expect(meanOf(plain).now).toBeCloseTo(level.mean_mm, 12);
    expect(meanOf(plain).sd).toBeCloseTo(level.sd_mm, 12);
    const turned = standingOf(creeping, SIGMA, 1, -0.3, 0.02 ** 2);
    expect(meanOf(turned).now).toBeCloseTo(level.mean_mm - 0.3, 12);
    expect(meanOf(turned).sd).toBeCloseTo(Math.hypot(level.sd_mm, 0.02), 12);
    expect(meanNext(turned)).toBeCloseTo(meanNext(plain) - 0.3, 12);
  });

  it('what creeps has gone on by the next check, as far as its slope says; twice as far in twice the web', () => {
    const [one, two] = [1, 2].map((steps) => standingOf(creeping, SIGMA, steps, 0, 0));
    if (one === undefined || two === undefined) throw new Error('none');
    const gone = (s: Standing): number => meanNext(s) - meanOf(s).now;
    expect(gone(one)).toBeGreaterThan(0.012);
    expect(gone(one)).toBeCloseTo(slopeOf(creeping), 3);
    expect(gone(two)).toBeGreaterThan(1.9 * gone(one));
    expect(meanOf(one).middle).toBeCloseTo(meanOf(one).now + gone(one) / 2, 12);
  });

  it('is what the estimate becomes when the next check is not read, but for what may newly begin', () => {
    const still = filterOf(Array.from({ length: 30 }, () => 0.05));
    const later = levelOf(nextLevel(still, SIGMA, 1, 1, 0, null));
    const s = standingOf(still, SIGMA, 1, 0, 0);
    expect(meanNext(s)).toBeCloseTo(later.mean_mm, 3);
    for (let i = 0; i < s.weight.length; i++)
      expect(s.nextVariance[i] ?? 0).toBeGreaterThanOrEqual((s.nowVariance[i] ?? 0) - 1e-12);
  });

  it('where accounts disagree the middle of the likeliest is one of them, not the mean of all', () => {
    const two: Standing = {
      weight: [0.55, 0.05, 0.4],
      now: [0.3, 0.32, 0],
      nowVariance: [0.0004, 0.0004, 0.0004],
      next: [0.3, 0.36, 0],
      nextVariance: [0.0004, 0.0004, 0.0004],
    };
    expect(meanOf(two).now).toBeCloseTo(0.181, 12);
    expect(likeliestMiddle(two, 0.075)).toBeCloseTo((0.55 * 0.3 + 0.05 * 0.34) / 0.6, 12);
    expect(likeliestMiddle(two, 1)).toBeCloseTo(meanOf(two).middle, 12);
  });

  it('a station known to stand somewhere stays there', () => {
    const s = standingAt(0.2, 0.03);
    expect(meanOf(s)).toEqual({ middle: 0.2, now: 0.2, sd: 0.03 });
    expect(likeliestMiddle(s, 0.01)).toBe(0.2);
  });
});
