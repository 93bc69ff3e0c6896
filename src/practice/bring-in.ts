import { makeReady } from '../core/adjust/make-ready.js';
import { AXES, type Axis } from '../core/axis.js';
import { allRead, type Game, keyCheck, play } from './game.js';
import { doAll, makeMoves } from './make-moves.js';
import { planInputs } from './plan-inputs.js';
import { bringUp, runUntilTold } from './play-through.js';

/** Samples after which somebody gives up and passes what there is. */
const MOST = 8;

/**
 * Make-ready in the program's order, all that one sample asks for before the next is pulled. `level` says what is believed of a station
 * after a sample: what was read, or the truth. Passes the first sample on which everything reads in tolerance.
 */
export const bringIn = (game: Game, level: (game: Game, station: string, axis: Axis) => number | null): Game => {
  let now = bringUp(game);
  for (let n = 0; n < MOST && !now.world.ended; n += 1) {
    now = pullAndKey(now);
    if (allIn(now, level)) break;
    const inputs = planInputs(now.world, (station, axis) => level(now, station, axis));
    now = runUntilTold(
      makeMoves(
        now,
        makeReady(inputs).flatMap((step) => step.moves),
      ),
    );
  }
  return doAll(now, [{ kind: 'ok' }]);
};

/** Pulls a sample and keys every mark as it is under the loupe. */
export const pullAndKey = (game: Game): Game => keyAll(doAll(game, [{ kind: 'pull' }]));

/** The other label of the sample just pulled. */
export const readSecondLabel = (game: Game): Game => {
  const another = play(game, { kind: 'label' });
  return another.ok ? keyAll(another.value) : game;
};

const keyAll = (game: Game): Game => {
  const keyed = keyCheck(game, allRead(game));
  return keyed.ok ? keyed.value : game;
};

const allIn = (game: Game, level: (game: Game, station: string, axis: Axis) => number | null): boolean =>
  game.world.stations.every(
    (s) =>
      s.id === game.world.job.reference ||
      AXES.every((axis) => {
        const mm = level(game, s.id, axis);
        return mm !== null && Math.abs(mm) <= (game.world.job.tolerance_mm[s.id]?.[axis] ?? Infinity);
      }),
  );
