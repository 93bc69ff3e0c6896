import { reversedKnob } from '../adjust/turn.js';
import type { Axis } from '../axis.js';
import type { Knob, PressStation } from '../press.js';
import type { Judged } from './state.js';

/** A knob as the press file has it, or as it was measured on the press since. Where its mark was found to say the opposite of what was taken, the hand goes the other way too. */
export const knobOf = (
  judged: Pick<Judged, 'measured_knobs'>,
  station: Pick<PressStation, 'id' | 'knobs'>,
  axis: Axis,
): Knob => {
  const knob = station.knobs[axis];
  const measured = judged.measured_knobs[station.id]?.[axis];
  if (measured === undefined) return knob;
  return { ...(measured.sense === knob.sense ? knob : reversedKnob(knob)), ...measured, sense_given: true };
};
