import type { Axis } from '../axis.js';
import type { Cause, Shape } from '../finding.js';
import type { CheckId } from '../record.js';

export type Pattern = 'at roll change' | 'within each roll' | 'tooth step' | 'over-adjusting';

/** One movement found and followed until it is accounted for. */
export type Movement = {
  /** Stays while it is the same movement; a new movement gets a new one. Unique in the watch, both axes. */
  readonly key: number;
  readonly axis: Axis;
  readonly cause: Cause;
  readonly confidence: number;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  /** The station's or reference's own movement by now, mm; web: mm per m of path; known corrections not counted. */
  readonly moved_mm: number;
  readonly sd_mm: number;
  readonly shape: Shape;
  /** mm per m of web; 0 for a step. */
  readonly slope_mm_per_m: number;
  readonly alternatives: readonly { readonly cause: Cause; readonly confidence: number }[];
  readonly pattern?: Pattern;
  /** The register is back where it was, by a correction or by itself. Said once; then the movement is no longer listed. */
  readonly settled: boolean;
};

export type AxisFound = {
  readonly axis: Axis;
  /** Evidence of a movement not yet accounted for is past the threshold at this check. */
  readonly alarm: boolean;
  readonly movements: readonly Movement[];
  readonly corrections: readonly CorrectionRead[];
};

/** A correction, when the first sample that carries it has been read: with the sign of the print's move of the station turned. */
export type CorrectionRead = {
  readonly station: string;
  readonly asked_mm: number;
  readonly got_mm: number;
  readonly sd_mm: number;
};
