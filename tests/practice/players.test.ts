import { describe, expect, it } from 'vitest';
import { LESSONS } from '../../src/practice/exercises.js';
import { freeRun } from '../../src/practice/free-run.js';
import { points, tallyOf, yardsticks } from '../../src/practice/score.js';
import { exerciseOf } from './sessions.js';

const wasteOfAll = (exercise: Parameters<typeof yardsticks>[0]) => {
  const { best, advised, untouched } = yardsticks(exercise);
  const metres = (game: typeof best): number => tallyOf(game.world).waste.metres;
  return { best: metres(best), advised: metres(advised), untouched: metres(untouched) };
};

/** Seeds a class may be given. */
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];

describe('the advice can be followed', () => {
  it.each(LESSONS.map((l) => [l.id, l.title] as const))(
    'exercise %s, %s: within 1.5 of the best, never worse than leaving alone',
    (id) => {
      for (const seed of SEEDS) {
        const waste = wasteOfAll(exerciseOf(id, seed));
        expect(waste.advised, `seed ${seed}`).toBeLessThanOrEqual(waste.untouched);
        expect(waste.advised, `seed ${seed}`).toBeLessThanOrEqual(1.5 * waste.best);
      }
    },
  );

  it('the best is worked from the exercise alone: no seed changes it', () => {
    // Worked by hand: 5 in world.test.ts; 4: out from metre 2 105 (2 100 + 4.9) until set at 2 530 m, good again from 2 535, 430 m less
    // what the settling of the print at the stations takes; and the samples.
    for (const { id } of LESSONS)
      expect(new Set([1, 9].map((seed) => wasteOfAll(exerciseOf(id, seed)).best)).size).toBe(1);
  });

  it('free runs: never worse than leaving everything alone', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const waste = wasteOfAll(freeRun(seed));
      expect(waste.advised, `seed ${seed}`).toBeLessThanOrEqual(waste.untouched);
    }
  });
});

it('points: the share of the waste that was saved', () => {
  expect(points(87, 30, 600)).toBe(90);
  expect(points(30, 30, 600)).toBe(100);
  expect(points(700, 30, 600)).toBe(0);
  expect(points(30, 30, 30)).toBe(100);
});
