import { tellsAt } from './act.js';
import type { Exercise } from './exercise.js';
import { beginGame, type Game, play } from './game.js';
import { doAll } from './make-moves.js';

/** Somebody who plays an exercise by a rule. */
export type Player = {
  /** From the start to OK to run. */
  readonly makeReady: (game: Game) => Game;
  /** Pulls the sample that is due, reads it, does what its rule says. */
  readonly atCheck: (game: Game) => Game;
};

/** The whole exercise by one player: make-ready, then a sample wherever the job asks for one, to the end of the stock. */
export const playThrough = (exercise: Exercise, player: Player): Game => {
  let game = exercise.make_ready ? player.makeReady(beginGame(exercise)) : beginGame(exercise);
  while (!game.world.ended) {
    game = runTo(game, nextDue(game));
    if (!game.world.ended) game = player.atCheck(game);
  }
  return game;
};

/** Counter at which the next check is due by the job: so many metres on from OK to run. */
export const nextDue = (game: Game): number => {
  const every = game.world.job.checks.every_m ?? Infinity;
  const from = game.world.ok_m;
  return from === null ? Infinity : from + every * (Math.floor((game.world.web_m - from) / every) + 1);
};

/** The web runs on to a counter value, over splices, or to the end. */
export const runTo = (game: Game, to_m: number): Game => {
  let now = game;
  while (!now.world.ended && now.world.web_m < to_m) {
    const on = play(now, { kind: 'run', metres: Math.min(to_m, now.world.exercise.to_m) - now.world.web_m });
    if (!on.ok) return now;
    now = on.value;
  }
  return now;
};

/** On until a sample shows everything done so far. */
export const runUntilTold = (game: Game): Game => runTo(game, tellsAt(game.world));

/** Print on and the press started, if they are not; the first print let through to the sample place. */
export const bringUp = (game: Game): Game => {
  const { world } = game;
  const up = doAll(game, [
    ...(world.print_on ? [] : [{ kind: 'print on' } as const]),
    ...(world.running ? [] : [{ kind: 'start' } as const]),
  ]);
  return runUntilTold(up);
};
