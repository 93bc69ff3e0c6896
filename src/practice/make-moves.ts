import type { Move } from '../core/finding.js';
import type { PracticeAct } from './act.js';
import { type Game, play } from './game.js';
import { stationOf } from './world.js';

/** Does planned moves at the press as a careful operator would: what needs a standstill at one stop, made safe, print off for gears. */
export const makeMoves = (game: Game, moves: readonly Move[]): Game => {
  if (moves.length === 0) return game;
  const teeth = moves.some((m) => m.teeth !== 0);
  const stop = teeth || moves.some((m) => stationOf(game.world, m.station)?.kind === 'die');
  const before: readonly PracticeAct[] = stop
    ? [
        ...(game.world.running ? [{ kind: 'stop' } as const] : []),
        { kind: 'safe' },
        ...(teeth && game.world.print_on ? [{ kind: 'print off' } as const] : []),
      ]
    : [];
  const after: readonly PracticeAct[] = stop
    ? [...(teeth ? [{ kind: 'print on' } as const] : []), { kind: 'start' }]
    : [];
  return doAll(game, [...before, ...moves.flatMap(turnsOf), ...after]);
};

/** Acts one after the other; one that is refused is left out. */
export const doAll = (game: Game, acts: readonly PracticeAct[]): Game =>
  acts.reduce((g, one) => {
    const played = play(g, one);
    return played.ok ? played.value : g;
  }, game);

/** Gears go the way the print does, the knob by its mark; each a touch of its own. */
const turnsOf = (move: Move): readonly PracticeAct[] => [
  ...(move.teeth === 0
    ? []
    : [{ kind: 'turn', station: move.station, toward: move.turn, teeth: move.teeth, divisions: 0 } as const]),
  ...(move.divisions === null || move.divisions === 0
    ? []
    : [{ kind: 'turn', station: move.station, toward: move.knob, teeth: 0, divisions: move.divisions } as const]),
];
