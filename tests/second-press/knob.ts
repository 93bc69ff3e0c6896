/** A register knob: a division that is not quite what it says, and play when it is turned back. */
import { between, normal, sign, stream } from './prng.js';
import type { Scenario } from './scenario.js';
import { type StepLine, stepLine } from './step-line.js';

export type Knob = {
  /** Move of the print by all turns so far made, mm. */
  readonly line: StepLine;
  /** Turn by whole divisions at a counter; gives the true move, mm. */
  turn(divisions: number, counterM: number): number;
  /** Move by exactly so much, mm. */
  shift(mm: number, counterM: number): void;
};

export const makeKnob = (s: Scenario, station: number, axis: 0 | 1, seed: number): Knob => {
  const rng = stream(seed, `knob ${station} ${axis}`);
  const gain = Math.max(0.3, 1 + normal(rng) * s.gainSd + (2 * rng() - 1) * s.gainEven);
  const play = between(rng, s.playMm);
  /** Where the knob stands over the screw, and where the screw follows, mm; the slack lies taken up on one side. */
  let hand = 0;
  let screw = (sign(rng) * play) / 2;
  const line = stepLine();
  return {
    line,
    turn: (divisions, c) => {
      hand += divisions * s.divisionMm * gain;
      const was = screw;
      screw = Math.min(hand + play / 2, Math.max(hand - play / 2, screw));
      line.add(c, screw - was);
      return screw - was;
    },
    shift: (mm, c) => {
      hand += mm;
      screw += mm;
      line.add(c, mm);
    },
  };
};
