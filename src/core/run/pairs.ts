import type { Axis } from '../axis.js';
import type { Job } from '../job.js';
import type { Measured } from './measured.js';
import type { Judged } from './state.js';

/** Readings at exactly the tolerance are in; doubles of the same decimal may differ by this. */
export const EDGE_MM = 1e-9;

export type PairRead = {
  readonly stations: readonly [string, string];
  readonly axis: Axis;
  readonly apart_mm: number;
  readonly tolerance_mm: number;
  readonly out: boolean;
};

/** Pairs that trap, where both were read in this check: second minus first, mm. The reference reads 0. */
export const pairsRead = (
  job: Job,
  judged: Pick<Judged, 'reference'>,
  measured: readonly Measured[],
  axis: Axis,
): readonly PairRead[] => {
  const at = (id: string): number | null =>
    id === judged.reference ? 0 : (measured.find((m) => m.station === id)?.mm[axis] ?? null);
  return job.pairs.flatMap((pair) => {
    const tolerance_mm = pair.tolerance_mm[axis];
    const a = at(pair.stations[0]);
    const b = at(pair.stations[1]);
    if (tolerance_mm === null || a === null || b === null) return [];
    return [
      { stations: pair.stations, axis, apart_mm: b - a, tolerance_mm, out: Math.abs(b - a) > tolerance_mm + EDGE_MM },
    ];
  });
};
