import type { Movement } from '../core/run/state.js';
import { asAdvised, bringIn, pullAndKey, readSecondLabel } from './bring-in.js';
import type { Exercise } from './exercise.js';
import type { Game } from './game.js';
import { doAll, makeMoves } from './make-moves.js';
import { type Player, playThrough, runTo, runUntilTold } from './play-through.js';

/** Obeys the program throughout: turns what it says when it says so, reads the second label it asks for, and otherwise leaves alone. */
export const advised = (exercise: Exercise): Game => playThrough(exercise, OBEYS);

/** How often it looks again at one place before it goes on: after a correction of something that was out, a sample that tells. */
const LOOKS = 3;

const OBEYS: Player = {
  makeReady: (game) => bringIn(game, asAdvised),
  atCheck: (game) => obey(pullAndKey(game), LOOKS),
};

const obey = (game: Game, looks: number): Game => {
  if (game.world.ended) return game;
  const open = asking(game);
  const moves = open.flatMap((m) => m.advice?.moves ?? []);
  const tension = open.some((m) => m.cause.kind === 'web' && (m.advice?.moves.length ?? 0) === 0) && !tensionSet(game);
  const again = open.some((m) => (m.advice?.moves.length ?? 0) === 0 && (m.advice?.read_again?.length ?? 0) > 0);
  const plates = dirtyPlates(game);
  if (moves.length === 0 && !tension && plates.length === 0)
    return again && looks > 0 ? obey(readSecondLabel(game), looks - 1) : game;
  const set = tension ? doAll(game, [{ kind: 'tension' }]) : game;
  const done = washAll(makeMoves(set, moves), plates);
  const out = open.some((m) => m.severity === 'out');
  if (!out || looks <= 0) return done;
  return obey(pullAndKey(settled(runUntilTold(done))), looks - 1);
};

/** Movements that ask for something now. */
const asking = (game: Game): readonly Movement[] =>
  game.state.judged.movements.filter((m) => m.closed === null && !m.waiting && m.severity !== 'note');

/** "Look to tension": once for each movement of the web, not at every sample after. */
const tensionSet = (game: Game): boolean => {
  const last = game.world.done.findLast((d) => d.kind === 'tension');
  return last !== undefined && game.world.web_m - last.web_m < 1000;
};

/** Plates the program calls dirty, until they are washed. */
const dirtyPlates = (game: Game): readonly string[] =>
  game.world.stations
    .filter((s) => {
      const said = game.found.findLast(({ finding }) => finding.type === 'plate' && finding.station === s.id);
      const washed = game.world.done.findLast((d) => d.kind === 'wash' && d.station === s.id);
      if (said?.finding.type !== 'plate' || said.finding.state !== 'dirty') return false;
      return washed === undefined || washed.web_m < said.web_m;
    })
    .map((s) => s.id);

const washAll = (game: Game, plates: readonly string[]): Game =>
  plates.length === 0
    ? game
    : doAll(game, [
        { kind: 'stop' },
        { kind: 'safe' },
        ...plates.map((station) => ({ kind: 'wash', station }) as const),
        { kind: 'start' },
      ]);

/** Past the metres in which readings settle after a start or a splice. */
const settled = (game: Game): Game => {
  const until = game.state.judged.settle_until_m;
  return until === null ? game : runTo(game, Math.ceil(until + game.world.press.sample_m));
};
