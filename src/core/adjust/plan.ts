import type { AdviceFinding, Move } from '../finding.js';
import { fixedBrought } from './fixed-brought.js';
import { helixShift } from './helix.js';
import { bestOutcome, type Outcome, outcomeOf } from './options.js';
import type { PlanInput } from './plan-input.js';
import { secondLabel } from './second-label.js';
import { tidy } from './turn-station.js';
import { waysFor } from './ways.js';
import { whyPlan } from './why-plan.js';

/** What to turn; `moves` empty = leave it alone. Becomes an advice finding by adding the event. */
export type Plan = {
  readonly moves: readonly Move[];
  readonly leaves_mm: AdviceFinding['leaves_mm'];
  readonly why: string;
  readonly read_again?: readonly string[];
};

/** Why nothing is turned, when nothing is. */
export type Held = 'web' | 'second-label' | 'no-level' | 'fixed-inside' | 'cannot' | 'too-small' | null;

/**
 * What to turn for a found cause.
 * How: the ways of bringing in what the cause names are each rounded to teeth and divisions and compared: fewest left outside
 * tolerance, fewest knobs, fewest tooth moves, least travel. A web cause is tension, dryer or stock before any knob. A move of
 * the reference, or of more than one station, waits for a second label unless something is outside tolerance. A fixed thing is
 * never moved; a fixed die inside its tolerance is left. Less than half a division off is left.
 * Sources: order of trying and the second label are this project's (issue 4); the rest common practice, no source.
 * Example: reference crept 0.06 mm ahead, all others read −0.06: one move, the reference, retard 3 divisions of 0.02.
 */
export const planMoves = (input: PlanInput): Plan => {
  const outcome = bestOutcome(waysFor(input).map((way) => outcomeOf(input, way)));
  const held = heldBack(input, outcome);
  const turned = held === null && outcome !== null ? outcome.moves : [];
  // Until the last of them is done nothing is in register, so bringing the print to a fixed thing is work for a stop.
  const moves =
    fixedBrought(input, turned) === null ? turned : turned.map((move) => ({ ...move, when: 'stop' as const }));
  const levels =
    moves.length > 0 && outcome !== null
      ? outcome.after
      : input.stations.map(({ id, level_mm }) => ({ id, level_mm: id === input.reference ? 0 : level_mm }));
  const plan = { moves, leaves_mm: leaves(input, levels, moves), why: whyPlan(input, outcome, held) };
  return held === 'second-label' ? { ...plan, read_again: secondLabel(input) } : plan;
};

const heldBack = (input: PlanInput, outcome: Outcome | null): Held => {
  if (input.cause.kind === 'web' && !input.web_checked) return 'web';
  if (outcome === null) {
    const named = namedIds(input);
    const known = input.stations.filter((station) => named.includes(station.id) && station.level_mm !== null);
    if (known.length === 0) return 'no-level';
    const inside = known.every((station) => Math.abs(station.level_mm ?? 0) <= station.tolerance_mm + 1e-9);
    return inside ? 'fixed-inside' : 'cannot';
  }
  if (outcome.moves.length === 0) return outcome.out_of_travel.length > 0 ? 'cannot' : 'too-small';
  const waits = outcome.moves.length > 1 || outcome.moves.some((move) => move.station === input.reference);
  return waits && !input.anything_out && !input.second_read ? 'second-label' : null;
};

const namedIds = (input: PlanInput): readonly string[] => {
  if (input.cause.kind === 'station') return [input.cause.station];
  if (input.cause.kind === 'several') return input.cause.stations;
  return input.stations.filter((station) => station.id !== input.reference).map((station) => station.id);
};

const leaves = (input: PlanInput, levels: Outcome['after'], moves: readonly Move[]): AdviceFinding['leaves_mm'] => {
  const shiftOf = (id: string): number =>
    moves
      .filter((move) => move.station === id)
      .reduce((sum, move) => sum + helixShift(move.move_mm, input.helix_deg), 0);
  const helical = input.axis === 'across' && input.helix_deg !== 0;
  return levels.flatMap(({ id, level_mm }): AdviceFinding['leaves_mm'] => {
    if (id === input.reference || level_mm === null) return [];
    if (input.axis === 'along') return [{ station: id, along: tidy(level_mm) }];
    const along = input.stations.find((station) => station.id === id)?.along_mm ?? null;
    return helical && along !== null
      ? [{ station: id, across: tidy(level_mm), along: tidy(along + shiftOf(id) - shiftOf(input.reference)) }]
      : [{ station: id, across: tidy(level_mm) }];
  });
};
