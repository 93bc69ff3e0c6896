import type { Move } from '../finding.js';
import type { PlanInput } from './plan-input.js';

/**
 * The order in which make-ready turns: teeth first, at one stop, walking along the press; then knobs, those that need that stop before those
 * turned running, the station farthest from the reference first, along before side to side. On helical gears side to side comes before everything, as it shifts along.
 * Source: common practice, no source.
 */
export const orderOfMakeReady = (input: PlanInput, moves: readonly Move[]): readonly Move[] => {
  const path = (move: Move): number => input.stations.find((s) => s.id === move.station)?.path_m ?? 0;
  const helical = input.helix_deg !== 0;
  const group = (move: Move): number =>
    helical && move.axis === 'across' ? 0 : move.teeth !== 0 ? 1 : move.when === 'stop' ? 2 : 3;
  const far = (move: Move): number => (move.station === input.reference ? Infinity : Math.abs(path(move)));
  return moves.toSorted(
    (a, b) =>
      group(a) - group(b) ||
      (group(a) === 1 ? path(a) - path(b) : far(b) - far(a) || path(b) - path(a)) ||
      (a.axis === b.axis ? 0 : a.axis === 'along' ? -1 : 1),
  );
};
