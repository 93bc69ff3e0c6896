import type { Axis } from '../axis.js';
import type { Move } from '../finding.js';
import type { Hand } from '../press.js';
import { type Reach, type Split, splitMove } from './gears.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { oppositeTurn, otherHand, turnOf } from './turn.js';

/** One station's turn as planned: the move, what its print is expected to do, and what could not be done. */
export type StationTurn = { readonly move: Move | null; readonly effect_mm: number; readonly split: Split };

/**
 * From a wanted print movement to what is turned: asked for more where this knob is known to give less, split into teeth and
 * divisions, with the direction words. `teeth`, `divisions`, `knob` and `hand` all count in the direction of `turn`; a negative
 * count goes back from it. No move when it rounds to nothing (less than half a division).
 */
export const turnStation = (input: PlanInput, station: PlanStation, wanted_mm: number): StationTurn => {
  const gain = wanted_mm < 0 ? station.gain.minus : station.gain.plus;
  const reach = reachOf(input, station);
  // Teeth give what they are; only the knob's part is asked larger or smaller for its gain.
  const plain = splitMove(wanted_mm, reach);
  const split =
    gain === 1 || gain <= 0 ? plain : splitMove(plain.teeth * input.tooth_mm + knobPart(plain) / gain, reach);
  const knobGain = split.knob_mm < 0 ? station.gain.minus : station.gain.plus;
  const effect_mm = split.move_mm - split.knob_mm + split.knob_mm * (knobGain > 0 ? knobGain : 1);
  const nothing = split.teeth === 0 && (split.divisions === 0 || tooSmall(input, station, split.knob_mm));
  if (nothing) return { move: null, effect_mm: 0, split };
  return { move: asMove(input.axis, station, split), effect_mm, split };
};

const knobPart = (split: Split): number => split.knob_mm + split.short_mm;

const reachOf = (input: PlanInput, station: PlanStation): Reach => ({
  tooth_mm: input.axis === 'along' ? input.tooth_mm : null,
  repeat_mm: input.axis === 'along' ? input.repeat_mm : null,
  division_mm: station.knob.division_mm,
  travel_mm: station.knob.travel_mm,
  used_mm: station.used_mm,
});

/** With no division known, less than half of what can be read is left alone. */
const tooSmall = (input: PlanInput, station: PlanStation, knob_mm: number): boolean =>
  station.knob.division_mm === null && Math.abs(knob_mm) < input.resolution_mm / 2;

const asMove = (axis: Axis, station: PlanStation, split: Split): Move => {
  const turn = turnOf(axis, split.move_mm);
  const sign = split.move_mm < 0 ? -1 : 1;
  return {
    station: station.id,
    axis,
    move_mm: tidy(split.move_mm),
    turn,
    teeth: split.teeth * sign + 0,
    divisions: split.divisions === null ? null : split.divisions * sign + 0,
    knob: station.knob.sense === -1 ? oppositeTurn(turn) : turn,
    hand: handFor(station.knob.hand_plus, sign),
    when: split.teeth === 0 && station.kind !== 'die' && station.knob.while_running === true ? 'running' : 'stop',
  };
};

const handFor = (plus: Hand | null, sign: number): Hand | null => (plus === null || sign > 0 ? plus : otherHand(plus));

/** Takes the noise of binary fractions off (1e-12 mm). */
export const tidy = (mm: number): number => Math.round(mm * 1e12) / 1e12 + 0;
