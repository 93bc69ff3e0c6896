import type { Axis, PerAxis } from '../axis.js';
import type { AdviceFinding, CorrectionFinding, SuspectFinding } from '../finding.js';
import type { Life } from '../plates/fit-life.js';
import type { SignedPage, SignedPoint } from '../record.js';
import type { BoardView, EventView } from './board-view.js';
import type { ChartView } from './chart-view.js';
import type { CheckRounds } from './check-rounds.js';
import type { HoldSpan } from './hold-views.js';
import type { KnobLesson } from './knob-lessons.js';
import type { OutOfRegister } from './out-of-register.js';
import type { ProductTotals, TracedFact } from './traced.js';
import type { WarningRate } from './warning-rate.js';

export type { HeldRoll, HoldSpan } from './hold-views.js';

import type { DoneCorrection } from './knob-lessons.js';

export type { DoneCorrection } from './knob-lessons.js';

/** One movement as the record tells it: found, advised, done, result. */
export type EventStory = {
  readonly event: EventView;
  readonly found_at: string | null;
  readonly found_check: string;
  readonly found_web_m: number;
  readonly advice: readonly AdviceFinding[];
  /** Worded advice, in the order given. */
  readonly advised: readonly string[];
  readonly corrections: readonly CorrectionFinding[];
  readonly suspects: readonly SuspectFinding[];
  readonly closed_web_m: number | null;
};

/** What can only be said of a run as a whole, from every check of its log. */
export type WholeRun = {
  /** Hours that the press ran after OK to run. */
  readonly running_h: number;
  readonly warnings: WarningRate;
  readonly out: OutOfRegister;
  readonly rounds: CheckRounds;
  readonly knobs: readonly KnobLesson[];
  /** Stations whose plate was dirty at any time; absent in views made without holds. */
  readonly dirty_plates?: readonly string[];
  /** How long the plates ran clean, by station. */
  readonly plate_lives: readonly { readonly station: string; readonly lives: readonly Life[] }[];
};

/** One readable line for each other thing that happened: stops, washes, rolls, notes, sensor losses. */
export type LogLine = {
  /** A finished roll came off the rewind. */
  readonly roll_off?: true;
  readonly at: string;
  readonly by: string;
  readonly web_m: number | null;
  readonly words: string;
};

/** Where a finished roll began and came off, at the sample place; `to_m` null = still being wound. */
export type RollSpan = { readonly roll: string; readonly from_m: number; readonly to_m: number | null };

/** Who gave over to whom; `incoming` null = nobody took over. */
export type SignOff = {
  readonly at: string;
  readonly outgoing: string;
  readonly incoming: string | null;
  readonly note: string | null;
  /** What was read back, word for word; absent = not kept. */
  readonly points?: readonly SignedPoint[];
};

/** A handover of this run that was signed. */
export type SignedHandover = SignOff & {
  readonly number: number;
  /** Its entry in the log. */
  readonly seq: number;
  /** The page it was read from; absent in older logs. */
  readonly page?: SignedPage;
};

/** What proves a printed page: its number in the run, how many entries it was made from, and the chain behind them. */
export type Paper = SignedPage & { readonly signed: boolean };

/** Everything the record that one operator gives the next is written from; plain data, no formatting of files. */
export type HandoverView = {
  readonly board: BoardView;
  readonly time_zone: string;
  readonly made_at: string;
  /** When the run ended; absent = it goes on. */
  readonly ended_at?: string;
  /** Start of the shift (or the run) that is reported. */
  readonly since_at: string;
  readonly since_web_m: number | null;
  readonly made_m: number | null;
  readonly passed_by: string | null;
  readonly operators: readonly string[];
  readonly abnormal: readonly string[];
  readonly holds: readonly HoldSpan[];
  readonly stories: readonly EventStory[];
  readonly corrections: readonly DoneCorrection[];
  readonly log: readonly LogLine[];
  readonly notes: readonly LogLine[];
  readonly checks: {
    readonly made: number;
    readonly looked_only: number;
    readonly sensor: number;
    readonly withdrawn: number;
  };
  readonly summary: readonly {
    readonly station: string;
    readonly axis: Axis;
    readonly n: number;
    readonly mean_mm: number | null;
    readonly sd_mm: number | null;
    readonly cpk: number | null;
    /** Its 95 % interval; absent or null = not given. */
    readonly cpk_95?: { readonly low: number; readonly high: number } | null;
    readonly state: string;
  }[];
  readonly scatter_mm: PerAxis<number | null>;
  /** The shift change that closes what is reported; null or absent = not signed. */
  readonly sign_off?: SignOff | null;
  /** All handovers that were signed, oldest first; absent = none. */
  readonly signed?: readonly SignedHandover[];
  /** The run was read from this file, not run here. */
  readonly imported?: { readonly file: string };
  /** What the product was made from; absent = nothing was given. */
  readonly traced?: readonly TracedFact[];
  /** Absent = the view was made without a log. */
  readonly product?: ProductTotals;
  /** Absent = a page that proves nothing, as on the board. */
  readonly paper?: Paper;
  /** Finished rolls, oldest first, for saying where in a roll the held product lies; absent = not known. */
  readonly finished_rolls?: readonly RollSpan[];
  /** Of every measured station and axis, for the drawn report; absent = drawn without them. */
  readonly charts?: readonly ChartView[];
  /** Absent = the view was not made from a whole log. */
  readonly whole?: WholeRun;
};
