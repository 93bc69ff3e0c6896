import type { Axis } from './axis.js';
import type { CheckId } from './record.js';

export type Severity = 'note' | 'act' | 'out';

export type Cause =
  | { readonly kind: 'station'; readonly station: string }
  | { readonly kind: 'reference' }
  | { readonly kind: 'web' }
  | { readonly kind: 'several'; readonly stations: readonly string[] };

export type Shape = 'step' | 'ramp';

/** When a station's true register is expected to cross its limit: 80 % interval, metres of web position; null end = none foreseen. */
export type ReachLimit = { readonly likely_m: number; readonly early_m: number; readonly late_m: number | null };

export type EventFinding = {
  readonly type: 'event';
  readonly id: number;
  readonly severity: Severity;
  readonly axis: Axis;
  readonly cause: Cause;
  readonly pair?: readonly [string, string];
  readonly confidence: number;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  readonly moved_mm: number;
  readonly shape: Shape;
  readonly out_before_next_check: number;
  readonly reach_limit: ReachLimit | null;
};

export type Turn = 'retard' | 'advance' | 'to gear side' | 'to operator side';

/** One knob (or gear) to turn; teeth and divisions count + in the direction of `turn`, − back from it. */
export type Move = {
  readonly station: string;
  readonly axis: Axis;
  /** Movement of the print, mm, + ahead / + operator side. */
  readonly move_mm: number;
  readonly turn: Turn;
  readonly teeth: number;
  /** null when the press file gives no division: advice in mm and direction only. */
  readonly divisions: number | null;
  /** The marked direction to turn the knob; differs from `turn` when the knob's mark is reversed. */
  readonly knob: Turn;
  readonly hand: 'clockwise' | 'anticlockwise' | null;
  readonly when: 'running' | 'stop';
};

export type AdviceFinding = {
  readonly type: 'advice';
  readonly event: number;
  readonly moves: readonly Move[];
  readonly leaves_mm: readonly { readonly station: string; readonly along?: number; readonly across?: number }[];
  readonly why: string;
  readonly read_again?: readonly string[];
  /** Tension, dryer or stock, in words, where that is to be looked to before anything is turned. */
  readonly look_first?: string;
};

export type CorrectionFinding = {
  readonly type: 'correction';
  readonly event: number | null;
  readonly took: boolean;
  readonly station: string;
  readonly axis: Axis;
  readonly asked_mm: number;
  readonly got_mm: number;
};

export type ClosedFinding = {
  readonly type: 'closed';
  readonly event: number;
  readonly how: 'corrected' | 'recovered' | 'withdrawn';
};

/** Where on the run: a check, its counter value at the sample place, the finished roll. */
export type Place = { readonly check: CheckId | null; readonly web_m: number; readonly roll: string | null };

export type SuspectFinding = {
  readonly type: 'suspect';
  readonly event: number | null;
  /** Plate holds name the station instead of an event. */
  readonly station?: string;
  readonly from: Place;
  readonly to: Place | null;
  readonly rolls: readonly string[];
  readonly labels: number;
};

export type PlateFinding = {
  readonly type: 'plate';
  readonly station: string;
  readonly state: 'building' | 'dirty' | 'wash-due';
  readonly why: string;
};

/** What the judgement finds, in the order and shape that replay prints. */
export type Finding = EventFinding | AdviceFinding | CorrectionFinding | ClosedFinding | SuspectFinding | PlateFinding;
