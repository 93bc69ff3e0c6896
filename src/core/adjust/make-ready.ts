import { AXES, type Axis, type PerAxis } from '../axis.js';
import type { Move } from '../finding.js';
import type { PlanInput, PlanStation } from './plan-input.js';
import { oppositeTurn } from './turn.js';
import { tidy, turnStation } from './turn-station.js';

/** One step of bringing a job into register; a sample is pulled after each. */
export type MakeReadyStep = { readonly moves: readonly Move[]; readonly why: string };

/**
 * The order of the first corrections, before OK to run.
 * How: the reference is first set to the thing farthest from it along the web (commonly the die), which shifts every reading at
 * once; then the next farthest to the reference, and so on inwards. On helical gears side to side comes before along, as a side
 * move shifts along; on spur gears both axes of a station are one step. Whole teeth are a step of their own before the knob.
 * A thing that is off by less than half a division is left; what is fixed is brought to by the reference, or left.
 * One step at a time: after a sample the order is asked for anew, so only the first step is exact.
 * Source: common practice, no source; why it is sound: TRADE section 4, derived there.
 * Example: die 0.40 ahead, station 3 at 0.10: first the reference advances 0.40, then station 3 by 0.30.
 */
export const makeReady = (inputs: PerAxis<PlanInput>): readonly MakeReadyStep[] => {
  const helical = inputs.along.helix_deg !== 0;
  const shift: Record<Axis, number> = { along: 0, across: 0 };
  const steps: MakeReadyStep[] = [];
  const farthest = inOrder(inputs.along).find((one) =>
    AXES.some((axis) => stationIn(inputs[axis], one.id)?.level_mm != null),
  );
  const reference = inputs.along.reference;
  if (farthest !== undefined) {
    const wanted = both((axis) => {
      const far = stationIn(inputs[axis], farthest.id);
      const own = stationIn(inputs[axis], reference);
      return far?.level_mm == null || own === undefined || own.fixed ? 0 : far.level_mm;
    });
    const made = stepsFor(
      inputs,
      reference,
      wanted,
      helical,
      `set to ${farthest.name}, the farthest from it: that shifts every other reading at once`,
    );
    steps.push(...made.steps);
    for (const axis of AXES) shift[axis] = made.effect[axis];
  }
  for (const station of inOrder(inputs.along)) {
    const wanted = both((axis) => {
      const at = stationIn(inputs[axis], station.id);
      return at?.level_mm == null || at.fixed ? 0 : shift[axis] - at.level_mm;
    });
    steps.push(
      ...stepsFor(
        inputs,
        station.id,
        wanted,
        helical,
        `set to ${stationIn(inputs.along, reference)?.name ?? reference}`,
      ).steps,
    );
  }
  return steps;
};

/** All but the reference, the farthest along the web first; equally far: the one downstream first. */
const inOrder = (input: PlanInput): readonly PlanStation[] =>
  input.stations
    .filter((station) => station.id !== input.reference)
    .toSorted((a, b) => Math.abs(b.path_m) - Math.abs(a.path_m) || b.path_m - a.path_m);

const stepsFor = (inputs: PerAxis<PlanInput>, id: string, wanted: PerAxis<number>, helical: boolean, why: string) => {
  const turned = both((axis) => {
    const station = stationIn(inputs[axis], id);
    return station === undefined || wanted[axis] === 0 ? null : turnStation(inputs[axis], station, wanted[axis]);
  });
  const name = stationIn(inputs.along, id)?.name ?? id;
  const moves: readonly Axis[] = ['across', 'along'];
  const parts = moves.flatMap((axis) => {
    const move = turned[axis]?.move ?? null;
    return move === null ? [] : teethThenKnob(move, inputs[axis]);
  });
  const teeth = parts.filter((move) => move.teeth !== 0);
  const knobs = parts.filter((move) => move.teeth === 0);
  const groups = helical
    ? [knobs.filter((m) => m.axis === 'across'), teeth, knobs.filter((m) => m.axis === 'along')]
    : [teeth, knobs];
  const steps = groups.flatMap((group): readonly MakeReadyStep[] =>
    group.length === 0 ? [] : [{ moves: group, why: `${name} ${why}. Pull a sample, then the next.` }],
  );
  return { steps, effect: both((axis) => turned[axis]?.effect_mm ?? 0) };
};

/** A move of teeth and divisions as two: the teeth, then the knob, each in its own direction. */
const teethThenKnob = (move: Move, input: PlanInput): readonly Move[] => {
  if (move.teeth === 0 || move.divisions === 0) return [move];
  const sign = move.move_mm < 0 ? -1 : 1;
  const teeth_mm = move.teeth * sign * input.tooth_mm;
  const knob_mm = move.move_mm - teeth_mm;
  const when = stationIn(input, move.station)?.knob.while_running === true ? 'running' : 'stop';
  return [
    { ...facing(move, teeth_mm), teeth: Math.abs(move.teeth), divisions: move.divisions === null ? null : 0 },
    { ...facing(move, knob_mm), teeth: 0, divisions: move.divisions === null ? null : Math.abs(move.divisions), when },
  ];
};

/** The move with another amount, its directions turned about where the sign did. */
const facing = (move: Move, mm: number): Move => {
  if (mm < 0 === move.move_mm < 0) return { ...move, move_mm: tidy(mm) };
  const hand = move.hand === null ? null : move.hand === 'clockwise' ? 'anticlockwise' : 'clockwise';
  return { ...move, move_mm: tidy(mm), turn: oppositeTurn(move.turn), knob: oppositeTurn(move.knob), hand };
};

const stationIn = (input: PlanInput, id: string): PlanStation | undefined =>
  input.stations.find((station) => station.id === id);

const both = <T>(of: (axis: Axis) => T): PerAxis<T> => ({ along: of('along'), across: of('across') });
