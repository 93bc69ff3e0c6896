import type { KnobResponse } from '../adjust/response.js';
import type { Axis, PerAxis } from '../axis.js';
import type { CounterStretch } from '../counter.js';
import type { WatchState } from '../drift/watch.js';
import type { AdviceFinding, Cause, CorrectionFinding, Place, ReachLimit, Severity, Shape } from '../finding.js';
import type { HoldState } from '../hold/hold.js';
import type { Job } from '../job.js';
import type { PlatesState } from '../plates/plates.js';
import type { Press } from '../press.js';
import type { CheckId, HeldByHand, HoldSet, LogRecord, MeasuredKnobs, RecordHead } from '../record.js';
import type { Differences } from '../sensor-bias.js';
import type { WebClock } from '../web.js';
import type { Sums } from './sums.js';

/** One correction as turned, kept while a sample may still show the press before it. */
export type Turned = {
  readonly seq: number;
  readonly station: string;
  readonly axis: Axis;
  readonly move_mm: number;
  readonly teeth: number | null;
  readonly divisions: number | null;
  readonly web_m: number;
  /** The movement it was made for, by key; null = none on its axis had its station for cause. */
  readonly event: number | null;
  /** What the first sample printed wholly after it said; null until then. */
  readonly result: CorrectionFinding | null;
  /** How well that was read, 1 sigma, mm. */
  readonly got_sd_mm: number | null;
  readonly advised: boolean;
  /** Turned to measure the knob. */
  readonly trial: boolean;
};

/** What one station was last found to be on one axis. */
export type LastRead = {
  /** Reading minus aim, mm. */
  readonly mm: number | null;
  readonly check: CheckId | null;
  readonly web_m: number | null;
  readonly looked: 'in' | 'off' | null;
  /** Difference between the edges of the web, mm, when it was read at both. */
  readonly edges_apart_mm: number | null;
};

/** One movement found, followed until it is closed (`event` in files). */
export type Movement = {
  readonly key: number;
  readonly axis: Axis;
  readonly cause: Cause;
  readonly severity: Severity;
  readonly shape: Shape;
  readonly confidence: number;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  readonly moved_mm: number;
  readonly pair: readonly [string, string] | null;
  readonly out_before_next_check: number;
  readonly reach_limit: ReachLimit | null;
  readonly pattern: string | null;
  /** Identities in the watch, oldest first; empty = opened by a reading out (or a look) that the watch has not called a movement. */
  readonly watched: readonly number[];
  readonly opened: { readonly check: CheckId; readonly web_m: number; readonly at: string };
  /** One reading outside opened it: until the watch calls it a movement, that reading is all that is known. */
  readonly from_reading?: true;
  /** Checks judged since it was opened; the second label counts from 1. */
  readonly checks: number;
  /** Checks judged since its cause was last named otherwise. */
  readonly named: number;
  /** Successive checks at which no station stood as it would have it. */
  readonly lost: number;
  /** Successive checks at which a lower severity would have done. */
  readonly calm: number;
  /** Being led back: a correction was made for it and its result is not read yet. */
  readonly waiting: boolean;
  readonly been_out: boolean;
  /** Something is to be turned for it now; false = leave it alone, whatever its severity. */
  readonly helps: boolean;
  readonly advice: AdviceFinding | null;
  readonly closed: {
    readonly how: 'corrected' | 'recovered' | 'withdrawn';
    readonly check: CheckId;
    readonly web_m: number;
    readonly at: string;
  } | null;
  readonly suspect: {
    readonly from: Place;
    readonly to: Place | null;
    readonly rolls: readonly string[];
    readonly labels: number;
  } | null;
  readonly seen: boolean;
};

/** What a chart and a later look need of one check. */
export type Trail = {
  readonly check: CheckId;
  readonly web_m: number;
  readonly roll: string | null;
  readonly at: string;
  readonly sensor: boolean;
  /** By station; null = not measured. Reading minus aim, mm. */
  readonly along: readonly (number | null)[];
  readonly across: readonly (number | null)[];
};

/** Marks on the web that charts and the handover show. */
export type WebMark =
  | { readonly kind: 'finished' | 'stock'; readonly web_m: number; readonly roll: string | null }
  | { readonly kind: 'wash'; readonly web_m: number; readonly station: string }
  | { readonly kind: 'speed'; readonly web_m: number; readonly m_per_min: number }
  | { readonly kind: 'stop' | 'start'; readonly web_m: number };

/** All that is judged from the records: a record taken back or recorded late makes it anew. */
export type Judged = {
  readonly phase: 'make-ready' | 'running' | 'stopped' | 'ended';
  readonly reference: string;
  readonly tolerance_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly aim_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly ok: {
    readonly passed_by: string;
    readonly web_m: number;
    readonly at: string;
    readonly hold_to: 'aim' | 'sample';
    /** The full check it was given on; null when a file names none. */
    readonly check: CheckId | null;
  } | null;
  readonly zero_m: number;
  readonly counter_offset_m: number;
  /** The same for every place of the run: a counter set anew holds from there on only. */
  readonly counters: readonly CounterStretch[];
  readonly web: WebClock;
  /** Web printed from here to there is settling after a start, a splice or a change of speed; null = none is. */
  readonly settle_from_m: number | null;
  readonly settle_until_m: number | null;
  readonly roll: {
    readonly last_off: string | null;
    readonly off_m: number | null;
    readonly stock_m: number | null;
    readonly usual_m: number | null;
  };
  readonly pulls: readonly {
    readonly check: CheckId;
    readonly web_m: number;
    readonly at: string;
    readonly roll: string | null;
    readonly place: string | null;
  }[];
  /** Corrections, oldest first; `turned_before` sums those let go, as each acts on its own station. */
  readonly turns: readonly Turned[];
  readonly turned_before: Readonly<Record<string, PerAxis<number>>>;
  readonly watch: {
    readonly keyed: WatchState | null;
    readonly sensor: WatchState | null;
    readonly latest: 'keyed' | 'sensor';
  };
  readonly read: Readonly<Record<string, PerAxis<LastRead>>>;
  /** What each knob was found to do, from this run and those before it. */
  readonly knobs: Readonly<Record<string, PerAxis<KnobResponse>>>;
  /** Knobs that were measured on the press, which the press file of this run does not know. */
  readonly measured_knobs: MeasuredKnobs;
  readonly movements: readonly Movement[];
  /** By axis: stations to be read on a second label of this sample. */
  readonly read_again: PerAxis<readonly string[]>;
  readonly next_key: number;
  readonly holds: HoldState;
  readonly plates: PlatesState;
  readonly sums: Readonly<Record<string, PerAxis<Sums>>>;
  readonly trail: readonly Trail[];
  /** Keyed less sensor where both read the same stretch of web, mm; by station, only those that had both. */
  readonly loupe: Readonly<Record<string, PerAxis<Differences>>>;
  /** Where a plate or die was renewed or another reference taken: what was read up to there says nothing of the station now. */
  readonly new_marks_m?: Readonly<Record<string, number>>;
  readonly marks: readonly WebMark[];
  readonly checks: {
    readonly made: number;
    readonly looked_only: number;
    readonly sensor: number;
    readonly last_full_m: number | null;
  };
  readonly last_check: {
    readonly check: CheckId;
    readonly web_m: number;
    readonly at: string;
    readonly roll: string | null;
  } | null;
  /** Where tension, dryer, stock or web guide was last changed, web position; null = not since the run began. */
  readonly tension_looked_m: number | null;
  /** Smoothed distance between checks, m; null before two checks. */
  readonly spacing_m: number | null;
  /** Plates found wanting at the last check, for the announcer. */
  readonly plate_said: readonly {
    readonly key: string;
    readonly station: string;
    readonly state: 'building' | 'dirty' | 'wash-due';
    readonly why: string;
  }[];
};

/** What has been said of each movement, so that nothing is said twice. */
export type Said = {
  readonly next_id: number;
  readonly events: readonly {
    readonly id: number;
    readonly key: number;
    readonly severity: Severity;
    readonly cause: Cause;
    readonly axis: Axis;
    readonly advice: string | null;
    readonly closed: boolean;
  }[];
  readonly corrections: readonly number[];
  readonly plates: readonly string[];
  /** Spans of held product that were told, by key. */
  readonly spans: readonly { readonly key: string; readonly ended: boolean }[];
};

/** An act of the operator that can be shown and taken back. */
export type Act = {
  readonly seq: number;
  readonly at: string;
  readonly by: string;
  readonly record: LogRecord;
  readonly withdrawn: boolean;
};

/** The whole state of a run: a fold of its records. */
export type RunState = {
  readonly run: string;
  readonly press: Press;
  readonly job: Job;
  readonly time_zone: string;
  readonly seq: number;
  readonly operator: string | null;
  readonly next_check: number;
  readonly judged: Judged;
  readonly said: Said;
  /** Base to make the judgement anew from, and the records since; the older snapshot is let go as the newer fills. */
  readonly recent: {
    readonly base: Judged;
    readonly records: readonly LogRecord[];
    readonly middle: Judged | null;
    readonly middle_at: number;
  };
  readonly withdrawn: readonly number[];
  readonly withdrawn_checks: readonly CheckId[];
  readonly acts: readonly Act[];
  /** What became of held product, oldest first, without what was taken back. */
  readonly hold_sets: readonly (RecordHead & HoldSet)[];
  /** Product that a person put on hold, oldest first, without what was taken back. */
  readonly held_by_hand: readonly (RecordHead & HeldByHand)[];
  readonly sensor: { readonly state: string; readonly detail: string; readonly at: string } | null;
};
