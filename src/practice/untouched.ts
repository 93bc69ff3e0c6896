import { pullAndKey } from './bring-in.js';
import type { Exercise } from './exercise.js';
import { type Game, play } from './game.js';
import { type Player, playThrough } from './play-through.js';

/** Leaves everything as it is and only pulls what the job asks for. A make-ready it never ends: the stock is run to waste. */
export const untouched = (exercise: Exercise): Game => playThrough(exercise, NEVER);

const NEVER: Player = {
  makeReady: (game) => {
    const up = game.world.running ? game : toStart(game);
    const on = play(up, { kind: 'run', metres: up.world.exercise.to_m });
    return on.ok ? on.value : up;
  },
  atCheck: pullAndKey,
};

const toStart = (game: Game): Game => {
  const on = play(game, { kind: 'start' });
  return on.ok ? on.value : game;
};
