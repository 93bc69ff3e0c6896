import type { Axis } from '../axis.js';
import type { Judged } from './state.js';

/** Tolerance of a station now, mm each way from its aim; records may have changed the job's. */
export const toleranceIn = (judged: Pick<Judged, 'tolerance_mm'>, station: string, axis: Axis): number =>
  judged.tolerance_mm[station]?.[axis] ?? Infinity;
