import { describe, expect, it } from 'vitest';
import { keepLikeliest } from '../../../src/core/drift/keep-likeliest.js';
import {
  chanceOf,
  type Draft,
  GOING,
  HOLDING,
  levelOf,
  startLevel,
  WANDERING,
} from '../../../src/core/drift/level-filter.js';
import { nextLevel } from '../../../src/core/drift/next-level.js';
import { BEGIN, FAST, JUMP } from '../../../src/core/drift/ways.js';

/** Accounts of one kind: [weight, level, variance]. */
const draft = (kind: number, accounts: readonly (readonly [number, number, number])[]): Draft => ({
  kind: accounts.map(() => kind),
  weight: accounts.map(([weight]) => weight),
  level: accounts.map(([, level]) => level),
  variance: accounts.map(([, , variance]) => variance),
  slope: accounts.map(() => 0),
  slopeVariance: accounts.map(() => 0),
  slopeWith: accounts.map(() => 0),
});

const eleven = Array.from({ length: 11 }, (_, i) => [0.09, i, 0.01] as const);

describe('accounts of a station when there are too many', () => {
  it('the least likely is merged into one that says much the same: chance, mean and variance are those of both', () => {
    const kept = keepLikeliest(draft(HOLDING, [...eleven, [0.01, 3.1, 0.012]]));
    expect(kept.weight).toHaveLength(11);
    const i = kept.weight.findIndex((w) => w > 0.095);
    expect(kept.weight[i]).toBeCloseTo(0.09 + 0.01, 12);
    expect(kept.level[i]).toBeCloseTo(0.9 * 3 + 0.1 * 3.1, 12);
    expect(kept.variance[i]).toBeCloseTo(0.9 * 0.01 + 0.1 * 0.012 + 0.9 * 0.1 * 0.1 ** 2, 12);
    expect(levelOf(kept).mean_mm).toBeCloseTo(0.09 * 55 + 0.01 * 3.1, 12);
  });

  it.each([
    ['far from all others', [0.01, 30, 0.012]],
    ['a jump of a size not known, near a level long held', [0.01, 3.1, 1]],
  ] as const)('%s it is dropped', (_, odd) => {
    const kept = keepLikeliest(draft(HOLDING, [...eleven, odd]));
    expect(kept.weight.every((w) => Math.abs(w - 1 / 11) < 1e-12)).toBe(true);
    expect(kept.level.toSorted((a, b) => a - b)).toEqual(eleven.map(([, level]) => level));
  });

  it('a way of behaving that may begin at any check is believed as ways.ts says, when nothing was read that speaks for or against it', () => {
    let f = startLevel(0, 0.01, 0.04);
    let going = chanceOf(f, [GOING]);
    let wandering = chanceOf(f, WANDERING);
    const begins = FAST + BEGIN.reduce((sum, b) => sum + b, 0);
    for (let t = 0; t < 20; t++) {
      f = nextLevel(f, 0.04, 1, 1, 0, null);
      const stay = 1 - JUMP - begins;
      going = going * stay + (BEGIN[GOING] ?? 0) + FAST;
      wandering = wandering * stay + WANDERING.reduce((sum, kind) => sum + (BEGIN[kind] ?? 0), 0);
    }
    // Always dropping the least likely made this 0.72 and 0.83.
    expect(Math.abs(chanceOf(f, [GOING]) / going - 1)).toBeLessThan(0.06);
    expect(Math.abs(chanceOf(f, WANDERING) / wandering - 1)).toBeLessThan(0.06);
  });
});
