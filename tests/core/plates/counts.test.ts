import { describe, expect, it } from 'vitest';
import { chanceOfCountLearned, countLimit, countLimitLearned } from '../../../src/core/plates/count-limit.js';
import { fitLife, type Life } from '../../../src/core/plates/fit-life.js';
import { beliefOfLives, chanceDirty, dirtyBy } from '../../../src/core/plates/life.js';
import { dispersionOf, rateOfOthers, squareOf } from '../../../src/core/plates/usual-rate.js';
import { published } from '../spc/published.js';

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
  it('the limit where the rate is only learned, or counts scatter: never less than the Poisson one', () => {
    // scipy 1.17.1: smallest c with nbinom.sf(c - 1, r, r / (r + mean)) <= p; the last as the table above, the rate as good as known.
    expect(countLimitLearned(1, 2, 0.00135)).toBe(8);
    expect(countLimitLearned(1, 2, 1.11e-4)).toBe(11);
    expect(countLimitLearned(2.5, 4, 0.00135)).toBe(12);
    expect(countLimitLearned(4, 1e7, 0.00135)).toBe(12);
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

describe('how much counts scatter', () => {
  const known = (mean: number) => ({ flaws: mean * 1e9, labels: 1e9 });
  /** Mean of what counts say, weighted by their chances. */
  const meanOf = (mean: number, chances: readonly number[]): number =>
    chances.reduce((sum, chance, count) => sum + chance * squareOf(known(mean), count, 1), 0);

  it('wafers of NIST/SEMATECH 6.3.3.1: the index of dispersion, variance over mean', () => {
    const { counts } = published('nist-c-chart-wafers').inputs as { readonly counts: readonly number[] };
    const mean = counts.reduce((sum, c) => sum + c, 0) / counts.length;
    const said = counts.reduce((sum, c) => sum + squareOf(known(mean), c, 1), 0) / counts.length;
    // The ratio 1.578125 has n − 1 below (tests/core/spc: dispersion).
    expect(said).toBeCloseTo((1.578125 * 24) / 25, 6);
  });
  it('is 1 for Poisson counts and 1.5 for negative binomial ones that scatter 1.5 × as much', () => {
    const poisson = [1, 0.5].map((mean) => {
      const chances = [Math.exp(-mean)];
      for (let c = 1; c < 12; c += 1) chances.push(((chances.at(-1) ?? 0) * mean) / c);
      return meanOf(mean, chances);
    });
    expect(poisson[0]).toBeCloseTo(1, 3);
    expect(poisson[1]).toBeCloseTo(1, 3);
    // scipy 1.17.1: nbinom.pmf(0..9, 2, 2/3), mean 1, variance 1.5.
    const nb = [
      0.4444444444, 0.2962962963, 0.1481481481, 0.0658436214, 0.0274348422, 0.0109739369, 0.0042676422, 0.001625768518,
      0.0006096631944, 0.0002258011831,
    ];
    expect(meanOf(1, nb)).toBeCloseTo(1.5, 1);
  });
  it('a mean that is itself only learned takes its own scatter off: the example of the docstring', () => {
    expect(squareOf({ flaws: 2, labels: 10 }, 5, 5)).toBeCloseTo(6.6667, 3);
  });
  it('before any count more is reckoned with than Poisson; counts bring it to what they are, and a plate to its own', () => {
    const none = { squares: 0, checks: 0 };
    const before = dispersionOf(none, none);
    expect(before).toBeGreaterThan(1.6);
    expect(dispersionOf(none, { squares: 120, checks: 120 })).toBeCloseTo(1.2, 1);
    expect(dispersionOf(none, { squares: 6000, checks: 6000 })).toBeLessThan(1.03);
    expect(dispersionOf(none, { squares: 1200, checks: 600 })).toBeGreaterThan(1.9);
    const press = { squares: 3000, checks: 2000 };
    expect(dispersionOf({ squares: 3000, checks: 1000 }, press)).toBeGreaterThan(2);
    expect(dispersionOf({ squares: 0, checks: 9000 }, press)).toBe(1);
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
