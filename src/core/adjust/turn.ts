import type { Axis } from '../axis.js';
import type { Turn } from '../finding.js';
import type { Hand, Knob } from '../press.js';

/** Which way the print goes, in the trade's words: + is advance / to operator side. */
export const turnOf = (axis: Axis, move_mm: number): Turn => {
  if (axis === 'along') return move_mm < 0 ? 'retard' : 'advance';
  return move_mm < 0 ? 'to gear side' : 'to operator side';
};

const OPPOSITE: Readonly<Record<Turn, Turn>> = {
  retard: 'advance',
  advance: 'retard',
  'to gear side': 'to operator side',
  'to operator side': 'to gear side',
};

export const oppositeTurn = (turn: Turn): Turn => OPPOSITE[turn];

/** Where a print lies, in words: ahead / behind, operator side / gear side. */
export const sideOf = (axis: Axis, level_mm: number): string => {
  if (axis === 'along') return level_mm < 0 ? 'behind' : 'ahead';
  return level_mm < 0 ? 'to gear side' : 'to operator side';
};

/** The other way round for the hand. */
export const otherHand = (hand: Hand): Hand => (hand === 'clockwise' ? 'anticlockwise' : 'clockwise');

/** A knob that moves the print the other way than it was taken to: mark and hand turned about. */
export const reversedKnob = (knob: Knob): Knob => ({
  ...knob,
  sense: knob.sense === 1 ? -1 : 1,
  hand_plus: knob.hand_plus === null ? null : otherHand(knob.hand_plus),
});
