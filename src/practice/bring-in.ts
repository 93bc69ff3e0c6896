import { type MakeReadyPlan, makeReadyPlan } from '../core/adjust/make-ready.js';
import type { Axis } from '../core/axis.js';
import { BRING_IN } from '../core/job.js';
import { planOfMakeReady } from '../core/run/make-ready-plan.js';
import { allRead, type Game, keyCheck, play } from './game.js';
import { doAll, makeMoves } from './make-moves.js';
import { planInputs } from './plan-inputs.js';
import { bringUp, runUntilTold } from './play-through.js';

/** Samples after which somebody gives up and passes what there is. */
const MOST = 12;
/** Second labels of one sample after which somebody goes on. */
const LABELS = 3;

/** Make-ready by a plan: everything that one sample asks for before the next is pulled, second labels where it asks for them. Passes when all is in. */
export const bringIn = (game: Game, planOf: (game: Game) => MakeReadyPlan): Game => {
  let now = bringUp(game);
  for (let n = 0; n < MOST && !now.world.ended; n += 1) {
    now = pullAndKey(now);
    let plan = planOf(now);
    for (let k = 0; k < LABELS && plan.read_again.length > 0; k += 1) {
      now = readSecondLabel(now);
      plan = planOf(now);
    }
    if (plan.ready || (plan.moves.length === 0 && plan.read_again.length === 0)) break;
    now = runUntilTold(makeMoves(now, plan.moves));
  }
  return doAll(now, [{ kind: 'ok' }]);
};

/** As the program says. */
export const asAdvised = (game: Game): MakeReadyPlan => planOfMakeReady(game.state);

/** As one would plan who sees how things truly stand. */
export const asTrue =
  (level: (game: Game, station: string, axis: Axis) => number | null) =>
  (game: Game): MakeReadyPlan => {
    const inputs = planInputs(game.world, (station, axis) => level(game, station, axis), 0);
    return makeReadyPlan({ inputs, bring_in: game.world.job.bring_in ?? BRING_IN });
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
