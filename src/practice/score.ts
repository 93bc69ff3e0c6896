import { advised } from './advised.js';
import { best } from './best.js';
import type { Exercise } from './exercise.js';
import type { Game } from './game.js';
import { untouched } from './untouched.js';
import { type Waste, wasteOf } from './waste.js';
import type { World } from './world.js';

/** What somebody's exercise came to. */
export type Tally = {
  readonly waste: Waste;
  /** Knobs and gears turned, tension set, plates washed. */
  readonly touches: number;
  /** Samples pulled. */
  readonly checks: number;
};

export const tallyOf = (world: World): Tally => ({
  waste: wasteOf(world),
  touches: world.done.filter((d) => d.kind === 'turn' || d.kind === 'tension' || d.kind === 'wash').length,
  checks: world.done.filter((d) => d.kind === 'pull').length,
});

/** The three it is measured by: the best move at every check, the program obeyed, nothing ever touched. */
export type Yardsticks = { readonly best: Game; readonly advised: Game; readonly untouched: Game };

export const yardsticks = (exercise: Exercise): Yardsticks => ({
  best: best(exercise),
  advised: advised(exercise),
  untouched: untouched(exercise),
});

/**
 * Points out of 100: how much of the waste that could be saved was saved. (untouched − own) ÷ (untouched − best), between 0 and 100; where
 * there was nothing to save, 100 for no more waste than that. Example: untouched 600, best 30, own 87: 90.
 */
export const points = (own_m: number, best_m: number, untouched_m: number): number => {
  const to_save = untouched_m - best_m;
  if (to_save <= 0) return own_m <= untouched_m ? 100 : 0;
  return Math.round(Math.min(100, Math.max(0, (100 * (untouched_m - own_m)) / to_save)));
};
