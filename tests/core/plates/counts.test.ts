import { describe, expect, it } from 'vitest';
import { chanceOfCountLearned, countLimit, countsAs } from '../../../src/core/plates/count-limit.js';
import { fitLife, type Life } from '../../../src/core/plates/fit-life.js';
import { beliefOfLives, chanceDirty, dirtyBy } from '../../../src/core/plates/life.js';
import { dispersionOf, rateOfOthers } from '../../../src/core/plates/usual-rate.js';

const plates = (rates: readonly { flaws: number; labels: number }[]) =>
  rates.map((rate, i) => ({ id: String(i), rate }));

describe('exact Poisson limits', () => {
  // TRADE section 5, derived there: signal at this count or more, p ≤ 0.00135.
  it.each([
    [0.25, 4],
    [0.5, 5],
    [1, 6],
    [2, 8],
    [4, 12],
  ])('mean %f: %i or more', (mean, limit) => expect(countLimit(mean, 0.00135)).toBe(limit));
  it('a plate that never had a flaw: one is too many', () => expect(countLimit(0, 0.001)).toBe(1));
  it('the rate only learned: negative binomial tail', () => {
    // scipy 1.17.1: nbinom.sf(5, 10, 50/55)
    expect(chanceOfCountLearned(6, 5, 10, 50)).toBeCloseTo(0.00136888429505, 12);
  });
  it('counts as itself when Poisson, as less when counts scatter more, never as less than the mean says', () => {
    expect(countsAs(7, 1, 1)).toBe(7);
    expect(countsAs(7, 1, 2)).toBeLessThan(7);
    expect(countsAs(7, 1, 2)).toBeGreaterThan(2);
    expect(countsAs(1, 2, 3)).toBe(1);
  });
  it('dispersion: 1 for few or Poisson counts, learned from many', () => {
    expect(dispersionOf({ squares: 0, checks: 0 }, { squares: 3, checks: 3 })).toBe(1);
    expect(dispersionOf({ squares: 40, checks: 20 }, { squares: 1200, checks: 600 })).toBeGreaterThan(1.7);
  });
  it('the other plates teach the more the more alike they are', () => {
    const alike = rateOfOthers(
      plates([
        { flaws: 20, labels: 100 },
        { flaws: 22, labels: 100 },
        { flaws: 19, labels: 100 },
      ]),
      '9',
    );
    const apart = rateOfOthers(
      plates([
        { flaws: 5, labels: 100 },
        { flaws: 60, labels: 100 },
        { flaws: 1, labels: 100 },
      ]),
      '9',
    );
    expect(alike.flaws).toBeGreaterThan(apart.flaws);
    expect(alike.flaws / alike.labels).toBeCloseTo(0.2, 1);
  });
});

describe('how long a plate runs clean', () => {
  const ended = [
    [4, 6],
    [8, 10],
    [10, 12],
    [6, 8],
    [12, 14],
    [8, 10],
    [14, 16],
  ] as const;
  const lives: readonly Life[] = [
    ...ended.map(([from, to]) => ({ from_m: from * 1000, to_m: to * 1000 })),
    ...[9, 12, 15].map((from) => ({ from_m: from * 1000, to_m: null })),
  ];
  it('interval- and right-censored Weibull as scipy 1.17.1 has it (weibull_min.fit of CensoredData, floc=0; its own maximum)', () => {
    const fit = fitLife(lives, false);
    expect(fit?.shape).toBeCloseTo(3.2658962, 5);
    expect((fit?.scale_m ?? 0) / 1000).toBeCloseTo(12.7946103, 5);
  });
  it('too few lives without belief is said, with belief the belief stands', () => {
    expect(fitLife([], false)).toBeNull();
    expect(fitLife(lives.slice(0, 1), false)).toBeNull();
    expect(fitLife([], true)).toMatchObject({ shape: expect.closeTo(2, 6), scale_m: expect.closeTo(15000, 3) });
  });
  it('weights sum to 1; chances lie between 0 and 1 and grow with the distance', () => {
    const belief = beliefOfLives(lives);
    expect(belief.reduce((sum, point) => sum + point.weight, 0)).toBeCloseTo(1, 12);
    const chances = [8, 9, 10, 12, 20, 60].map((km) => chanceDirty(belief, 8000, km * 1000));
    expect(chances[0]).toBe(0);
    expect(chances.every((p, i) => p >= (chances[i - 1] ?? 0) && p <= 1)).toBe(true);
    expect(dirtyBy(belief, 0.5)).toBeGreaterThan(9000);
    expect(dirtyBy(belief, 0.5)).toBeLessThan(13000);
  });
  it('many lives: the belief about any plate no longer matters', () => {
    const many = Array.from({ length: 6 }, () => lives).flat();
    expect(fitLife(many, true)?.shape).toBeCloseTo(fitLife(many, false)?.shape ?? 0, 0);
  });
});
