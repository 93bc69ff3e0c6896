import { sayRegister } from '../adjust/say-register.js';
import { oppositeTurn, otherHand } from '../adjust/turn.js';
import type { Move, Turn } from '../finding.js';
import type { RegisterUnit } from '../units.js';

export type TodoUrgency = 'calm' | 'note' | 'act' | 'out';

/**
 * One line of what to do. All lines stand together: none takes the place of another. `head` has what may never be cut (what, where, how much,
 * which way); `tail` gives way where there is no room.
 */
export type Todo = {
  readonly kind: 'turn' | 'look' | 'read again' | 'sample' | 'wash' | 'plate' | 'check' | 'hold' | 'leave' | 'say';
  readonly urgency: TodoUrgency;
  readonly head: string;
  readonly tail: string;
  /** The same in as few words as can be read across the aisle. */
  readonly big: string;
  readonly why: string;
  /** The move that ticks this line off when it is on record. */
  readonly move: Move | null;
  /** The movement it belongs to, as it is spoken of. */
  readonly event: number | null;
  readonly station: string | null;
};

/** What a line about a knob needs to know of it. */
export type TodoKnob = {
  readonly label: string;
  readonly word: string;
  /** −1: its mark says the opposite of what the print does. */
  readonly sense: 1 | -1;
  /** What one gear tooth moves the print, mm. */
  readonly tooth_mm: number;
};

/** "RETARD 4 grey 2 divisions (0.10 mm)": which way, which, how much. Teeth and divisions each with their own way. */
export const turnHead = (move: Move, knob: TodoKnob, unit: RegisterUnit): string => {
  const amount = sayRegister(move.move_mm, unit);
  const label = cutLabel(knob.label);
  if (move.teeth === 0)
    return `${verb(move.turn, label)} ${move.divisions === null ? amount : `${count(move.divisions, knob.word)} (${amount})`}`;
  const teeth = `${verb(move.teeth > 0 ? move.turn : oppositeTurn(move.turn), label)} ${Math.abs(move.teeth)} ${Math.abs(move.teeth) === 1 ? 'tooth' : 'teeth'}`;
  if (move.divisions === 0) return `${teeth} (${amount})`;
  if (move.divisions === null) {
    const rest = knobPart(move, knob);
    return `${teeth}, ${rest < 0 ? 'back ' : ''}${sayRegister(Math.abs(rest), unit)} by knob (${amount})`;
  }
  const back = Math.sign(move.divisions) !== Math.sign(move.teeth);
  return `${teeth}, ${back ? 'back ' : ''}${count(move.divisions, knob.word)} (${amount})`;
};

/** What is left for the knob after the teeth, mm, + in the direction of the move. */
const knobPart = (move: Move, { tooth_mm }: TodoKnob): number =>
  Math.abs(move.move_mm) - (move.axis === 'along' ? move.teeth * tooth_mm : 0);

/** ": knob anticlockwise, at a stop": what the hand does, and when. */
export const turnTail = (move: Move, knob: TodoKnob): string => {
  const way = (move.divisions ?? knobPart(move, knob)) < 0 ? -1 : 1;
  const hand = move.hand === null || way > 0 ? move.hand : otherHand(move.hand);
  const parts = [
    hand === null || move.divisions === 0 ? '' : `knob ${hand}`,
    knob.sense === -1 && move.divisions !== 0 ? `marked "${way > 0 ? move.knob : oppositeTurn(move.knob)}"` : '',
    move.when === 'stop' ? 'at a stop' : '',
  ].filter((one) => one !== '');
  return parts.length === 0 ? '' : `: ${parts.join(', ')}`;
};

/** "retard 4 grey 2 divisions": for large letters. */
export const turnBig = (move: Move, knob: TodoKnob, unit: RegisterUnit): string =>
  turnHead(move, { ...knob, label: colour(knob.label) }, unit).replace(/ \([^)]*\)$/, '') +
  (move.when === 'stop' ? ' at a stop' : '');

/** What the hand does, one line: "4 grey: knob ANTICLOCKWISE 2 divisions, while running." */
export const handLine = (move: Move, knob: TodoKnob, unit: RegisterUnit): string => {
  const hand = move.hand === null ? 'turn the knob' : `knob ${move.hand.toUpperCase()}`;
  const amount = move.divisions === null ? sayRegister(move.move_mm, unit) : count(move.divisions, knob.word);
  const teeth =
    move.teeth === 0 ? '' : `${Math.abs(move.teeth)} ${Math.abs(move.teeth) === 1 ? 'tooth' : 'teeth'} at the gear, `;
  return `${knob.label}: ${teeth}${hand} ${amount}, ${move.when === 'running' ? 'while running' : 'at a stop'}.`;
};

/** Number and last word, which is the colour. */
export const colour = (label: string): string => {
  const words = label.split(' ');
  return words.length > 2 ? `${words[0] ?? ''} ${words[words.length - 1] ?? ''}` : label;
};

const VERB: Readonly<Record<Turn, (label: string) => string>> = {
  retard: (label) => `RETARD ${label}`,
  advance: (label) => `ADVANCE ${label}`,
  'to gear side': (label) => `${label} to GEAR SIDE`,
  'to operator side': (label) => `${label} to OPERATOR SIDE`,
};

const verb = (turn: Turn, label: string): string => VERB[turn](label);

const count = (divisions: number, word: string): string => {
  const n = Math.abs(divisions);
  return `${n} ${n === 1 ? word.replace(/s$/, '') : word}`;
};

/** A name may be as long as it likes in the job; in a line that must not be cut it gets so much. */
const LABEL = 22;
const cutLabel = (label: string): string => {
  const short = label.length <= LABEL ? label : colour(label);
  return short.length <= LABEL ? short : short.slice(0, LABEL);
};
