import type { Move, Turn } from '../finding.js';
import type { RegisterUnit } from '../units.js';
import { tellsFrom } from '../web.js';
import { sayRegister } from './say-register.js';
import { oppositeTurn, otherHand } from './turn.js';

/** What the sentences need to know of a station. */
export type NamedStation = {
  readonly id: string;
  readonly name: string;
  readonly word: string;
  readonly sense: 1 | -1;
};

const VERB: Readonly<Record<Turn, string>> = {
  retard: 'Retard',
  advance: 'Advance',
  'to gear side': 'Move to the gear side',
  'to operator side': 'Move to the operator side',
};

const PRINT_GOES: Readonly<Record<Turn, string>> = {
  retard: 'print goes back',
  advance: 'print goes ahead',
  'to gear side': 'print goes to the gear side',
  'to operator side': 'print goes to the operator side',
};

/**
 * One move in the operator's words: "Retard 1 white 3 divisions (0.06 mm, print goes back): knob anticlockwise."
 * Teeth and divisions each with their own direction; the knob's own mark is named where it says the opposite of the print.
 */
export const moveWords = (move: Move, station: NamedStation, unit: RegisterUnit): string => {
  const amount = sayRegister(move.move_mm, unit);
  const goes = PRINT_GOES[move.turn];
  if (move.teeth === 0) {
    const turns = move.divisions === null ? amount : `${count(move.divisions, station.word)} (${amount}, ${goes})`;
    return `${VERB[move.turn]} ${station.name} ${turns}${move.divisions === null ? ` (${goes})` : ''}${knobWords(move, station, 1)}.`;
  }
  const teeth = `${VERB[move.teeth > 0 ? move.turn : oppositeTurn(move.turn)]} ${station.name} ${Math.abs(move.teeth)} ${Math.abs(move.teeth) === 1 ? 'tooth' : 'teeth'}`;
  if (move.divisions === 0) return `${teeth} (${amount}, ${goes}). Leave the knob where it is.`;
  if (move.divisions === null) return `${teeth}, then by knob until the print has gone ${amount} in all (${goes}).`;
  const way = move.divisions > 0 ? 1 : -1;
  const knob = `${VERB[way > 0 ? move.turn : oppositeTurn(move.turn)].toLowerCase()} ${count(move.divisions, station.word)} by knob${knobWords(move, station, way)}`;
  return `${teeth}, then ${knob}. Together ${amount}, ${goes}.`;
};

/** Everything that is to be turned, in order, and that nothing else is. Empty when nothing is. */
export const instructionWords = (
  moves: readonly Move[],
  stations: readonly NamedStation[],
  unit: RegisterUnit,
): readonly string[] => {
  if (moves.length === 0) return [];
  const lines = moves.map((move) => {
    const named = stations.find((station) => station.id === move.station);
    return moveWords(move, named ?? { id: move.station, name: move.station, word: 'divisions', sense: 1 }, unit);
  });
  return [...lines, 'Touch nothing else.'];
};

/**
 * From which counter on a sample pulled at `place_m` shows these moves, when the last of them is made at `moved_m`: the web must
 * first carry the print there. Example: moved at 21 450 m, station at 3.9 m, sample at 12.0 m: from 21 458.1 m on.
 */
export const tellsAfter = (
  moves: readonly Move[],
  stations: readonly { readonly id: string; readonly at_m: number }[],
  moved_m: number,
  place_m: number,
): number | null => {
  const from = moves.flatMap((move) => {
    const station = stations.find((one) => one.id === move.station);
    return station === undefined ? [] : [tellsFrom(moved_m, place_m, station.at_m)];
  });
  return from.length === 0 ? null : Math.max(...from);
};

const count = (divisions: number, word: string): string => {
  const n = Math.abs(divisions);
  return `${n} ${n === 1 ? word.replace(/s$/, '') : word}`;
};

/** ", knob clockwise" and, where the mark is reversed, what the mark says. `way` −1: back from the move's direction. */
const knobWords = (move: Move, station: NamedStation, way: 1 | -1): string => {
  const hand = move.hand === null || way > 0 ? move.hand : otherHand(move.hand);
  const mark = way > 0 ? move.knob : oppositeTurn(move.knob);
  const marked = station.sense === -1 ? ` toward the mark "${mark}" (this knob is marked the other way round)` : '';
  if (hand === null) return marked === '' ? '' : `: turn the knob${marked}`;
  return `: knob ${hand}${marked}`;
};
