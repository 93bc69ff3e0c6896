import type { Move } from '../finding.js';
import { travelLeft } from './gears.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { turnStation } from './turn-station.js';

/** What make-ready knows beyond the planner's question; null or absent = nothing of the kind. */
export type MakeReadyKnown = {
  /** Labels read as the press was set for the last sample. */
  readonly labels: number;
  /** What was read is far from all that was expected: read again before it is believed. */
  readonly doubted: boolean;
  /** Slack to be taken up when the knob is reversed, mm, and which way (of the print) it was turned last. */
  readonly slack_mm: number;
  readonly last: 1 | -1 | null;
  /** What was turned since the last sample that shows it, as it acts on the print, mm. */
  readonly pending_mm: number;
};

type Known = Readonly<Record<string, MakeReadyKnown>>;
type Off = { readonly s: PlanStation; readonly mm: number };

/** Of the knob's travel, what may be used where a tooth would do it too; a stop costs more than travel, up to a tooth. */
const OF_TRAVEL = 0.9;
const MOST_TEETH = 1.1;

/** Whether the press must be stopped for teeth: more than half a tooth off, or beyond the knob, anywhere. Where the knob alone reaches it is not. */
const needsStop = (input: PlanInput, known: Known, off: readonly Off[]): boolean =>
  input.axis === 'along' &&
  off.some(({ s, mm }) => {
    const left = mm - (known[s.id]?.pending_mm ?? 0);
    return (turnStation(input, s, left).move?.teeth ?? 0) !== 0 && !knobReaches(input, s, left);
  });

const knobReaches = (input: PlanInput, s: PlanStation, mm: number): boolean => {
  if (s.knob.travel_mm === null || Math.abs(mm) > MOST_TEETH * input.tooth_mm) return false;
  const [back, forth] = travelLeft(s.knob.travel_mm, s.used_mm);
  const asked = mm / (mm < 0 ? s.gain.minus : s.gain.plus);
  return asked >= OF_TRAVEL * back && asked <= OF_TRAVEL * forth;
};

/** One station's turn: by teeth and knob, or by knob alone where no stop is made; asked for more by the slack when the knob goes back. */
const turned = (
  input: PlanInput,
  s: PlanStation,
  wanted: number,
  more: MakeReadyKnown | undefined,
  stop: boolean,
): { readonly move: Move | null; readonly effect_mm: number; readonly short: boolean } => {
  const within = !stop && knobReaches(input, s, wanted) ? { ...input, tooth_mm: 1e6 } : input;
  const first = turnStation(within, s, wanted);
  const way = Math.sign(first.split.knob_mm);
  const slack = more !== undefined && more.last !== null && way !== 0 && way !== more.last ? way * more.slack_mm : 0;
  const told = slack === 0 ? first : turnStation(within, s, wanted + slack);
  return {
    move: told.move === null ? null : teethAlone(input, s, told.move),
    effect_mm: told.effect_mm - (told.move === null ? 0 : slack),
    short: told.split.out_of_travel && Math.abs(told.split.short_mm) > s.tolerance_mm,
  };
};

/** On a knob without divisions what is left after the teeth and cannot be read is nothing to turn. */
const teethAlone = (input: PlanInput, s: PlanStation, move: Move): Move => {
  const teeth_mm = Math.sign(move.move_mm) * move.teeth * input.tooth_mm;
  const least = Math.max(input.resolution_mm, LEAST_OF_TOLERANCE * s.tolerance_mm);
  const whole = move.teeth !== 0 && move.divisions === null && Math.abs(move.move_mm - teeth_mm) < least;
  return whole ? { ...move, move_mm: teeth_mm, divisions: 0 } : move;
};
const LEAST_OF_TOLERANCE = 0.2;

export const turnOut = { of: turned, needsStop };
