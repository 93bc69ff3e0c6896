import type { Cause, Shape } from '../finding.js';
import type { CheckId } from '../record.js';
import type { Entry, Gone, Offset } from './entry.js';
import type { LevelFilter } from './level-filter.js';
import type { Pattern } from './movement.js';
import type { Swing } from './over-adjusting.js';
import type { Moved } from './restless.js';
import type { Scatter, ScatterState } from './scatter.js';

/** A movement being followed. `causes`: its cause number, or two when one does not explain it. */
export type Open = {
  readonly key: number;
  readonly causes: readonly number[];
  readonly confidence: number;
  readonly alternatives: readonly { readonly cause: Cause; readonly confidence: number }[];
  /** Entry number, check and place where it began, and entry number where it was found. */
  readonly start: number;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  readonly found: number;
  readonly shape: Shape;
  readonly slope: number;
  readonly moved: number;
  readonly sd: number;
  /** Levels it started from, without known corrections. */
  readonly from: readonly number[];
  /** Known corrections carried when it was found. */
  readonly turnedThen: readonly number[];
  /** Steady at its new level, which is now what new movements are measured from. */
  readonly levelled: boolean;
  /** A known correction put it there: its cause is not in question. */
  readonly byHand: boolean;
  /** Checks in a row that found the register near its aim. */
  readonly near: number;
  readonly settled: boolean;
  readonly pattern: Pattern | null;
  /** Only the check that raised it speaks for it so far. */
  readonly alone: boolean;
};

/** Everything the watch remembers of one axis. Plain data, bounded. */
export type AxisState = {
  readonly count: number;
  readonly entries: readonly Entry[];
  readonly marks: readonly { readonly at: number; readonly check: CheckId; readonly roll_change: boolean }[];
  readonly base: readonly number[];
  readonly offsets: readonly (Offset | null)[];
  readonly gone: Gone;
  readonly turned: readonly number[];
  /** By station: turned since it was last read, mm. */
  readonly due: readonly number[];
  readonly scatter: ScatterState;
  /** The scatter as known after this check, and the usual distance between checks, m. */
  readonly known: Scatter;
  readonly spacing_m: number;
  readonly filters: readonly (LevelFilter | null)[];
  /** By station: what the last check moved all stations by together, mm; empty = nothing. */
  readonly shift: readonly number[];
  readonly lastRead: readonly number[];
  /** By station: corrections that only threw it to the other side. */
  readonly swings: readonly Swing[];
  readonly open: readonly Open[];
  /** How often something was found to have moved here. */
  readonly moved: Moved;
};

/** How many checks the watch looks back. */
export const WINDOW = 60;
