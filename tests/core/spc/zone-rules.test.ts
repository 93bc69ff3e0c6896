import { describe, expect, it } from 'vitest';
import { individuals, individualsChart, RULE_WORDS, type RuleWord, runMethod } from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

const NELSON: readonly RuleWord[] = [
  'beyond-limits',
  'nine-one-side',
  'six-trend',
  'fourteen-alternating',
  'two-of-three',
  'four-of-five',
  'fifteen-near-centre',
  'eight-off-centre',
];
const WESTERN: readonly RuleWord[] = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-one-side'];

/** Places (from 0) at which each of the rules speaks. */
const speaking = (z: readonly number[], rules: readonly RuleWord[]): Map<string, number[]> => {
  const places = new Map<string, number[]>();
  runMethod(individuals, { centre: 0, sigma: 1, rules }, z).steps.forEach((step, i) => {
    for (const word of step.signal?.words ?? []) places.set(word, [...(places.get(word) ?? []), i]);
  });
  return places;
};

describe('the eight tests of Nelson, each on its own sequence and no other speaking', () => {
  it.each(['1', '2', '3', '4', '5', '6', '7', '8'].map((n) => `nelson-test-${n}`))('%s', (id) => {
    const { z } = published(id).inputs as { z: number[] };
    const { firesTests } = published(id).expected as { firesTests: Record<string, number[]> };
    const want = new Map(Object.entries(firesTests).map(([test, at]) => [NELSON[Number(test) - 1], at]));
    expect(speaking(z, NELSON), titleOf(id)).toEqual(want);
  });
});

describe('the zone rules of Western Electric', () => {
  it.each(['1', '2', '3', '4'].map((n) => `western-electric-rule-${n}`))('%s', (id) => {
    const { z } = published(id).inputs as { z: number[] };
    const { firesRules } = published(id).expected as { firesRules: Record<string, number[]> };
    const want = new Map(Object.entries(firesRules).map(([rule, at]) => [WESTERN[Number(rule) - 1], at]));
    expect(speaking(z, WESTERN), titleOf(id)).toEqual(want);
  });
  it.each(
    ['rule-1', 'rule-2', 'rule-3', 'rule-4', 'rule-overlap2', 'rule-overlap3', 'rule-overlap4'].map(
      (n) => `qcc-we-${n}`,
    ),
  )('%s (only on full windows)', (id) => {
    const { z, rule } = published(id).inputs as { z: number[]; rule: number };
    const { violatingIndex1 } = published(id).expected as { violatingIndex1: number[] };
    const word = WESTERN[rule - 1] ?? 'beyond-limits';
    expect(
      (speaking(z, [word]).get(word) ?? []).map((i) => i + 1),
      titleOf(id),
    ).toEqual(violatingIndex1);
  });
});

describe('the wording of the rules at their edges', () => {
  it('a reading exactly on a line is inside it; on the centre line it is on neither side', () => {
    expect(speaking([3, -3], ['beyond-limits'])).toEqual(new Map());
    expect(speaking([2, 2, 2], ['two-of-three'])).toEqual(new Map());
    expect(speaking([0.1, 0.2, 0.1, 0, 0.2, 0.1, 0.3, 0.2, 0.1], ['eight-one-side', 'nine-one-side'])).toEqual(
      new Map(),
    );
    expect(
      speaking(
        Array.from({ length: 15 }, (_, i) => (i % 2 === 0 ? 1 : -1)),
        ['fifteen-near-centre'],
      ).size,
    ).toBe(1);
  });
  it('equal neighbours break a trend and an alternation', () => {
    expect(speaking([0, 0.1, 0.2, 0.2, 0.3, 0.4, 0.5], ['six-trend'])).toEqual(new Map());
    const swings = Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 0.1 : -0.1));
    expect(speaking(swings, ['fourteen-alternating'])).toEqual(new Map([['fourteen-alternating', [13]]]));
    expect(speaking(swings.with(7, 0.1), ['fourteen-alternating'])).toEqual(new Map());
  });
  it('eight off the centre wants readings on both sides (Nelson: "on both sides of the centerline")', () => {
    expect(
      speaking(
        Array.from({ length: 12 }, () => 1.5),
        ['eight-off-centre'],
      ),
    ).toEqual(new Map());
    expect(speaking([1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5, -1.5], ['eight-off-centre']).get('eight-off-centre')).toEqual([
      7,
    ]);
  });
  it('the zones lie at thirds of the limits, wherever the limits are', () => {
    const chart = individualsChart({ target: 10, sigma: 1, width: 1.5, rules: ['two-of-three'] }, [11.1, 10, 11.2]);
    expect(chart.ok && chart.value.points[2]?.signals).toEqual(['two-of-three']);
  });
  it('all readings at the aim break no rule but fifteen near the centre', () => {
    const words = speaking(
      Array.from({ length: 40 }, () => 0),
      RULE_WORDS,
    );
    expect([...words.keys()]).toEqual(['fifteen-near-centre']);
    expect(words.get('fifteen-near-centre')?.[0]).toBe(14);
  });
});
