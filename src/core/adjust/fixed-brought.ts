import type { Move } from '../finding.js';
import type { PlanInput, PlanStation } from './plan-input.js';

/** The fixed thing that the reference and the rest are moved for, if that is what these moves are. */
export const fixedBrought = (input: PlanInput, moves: readonly Move[]): PlanStation | null => {
  if (moves.length < 2 || !moves.some((move) => move.station === input.reference)) return null;
  const { cause } = input;
  const named = cause.kind === 'station' ? [cause.station] : cause.kind === 'several' ? cause.stations : [];
  return input.stations.find((station) => station.fixed && named.includes(station.id)) ?? null;
};
