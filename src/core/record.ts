import type { Axis, PerAxis } from './axis.js';
import type { Job } from './job.js';
import type { Life } from './plates/fit-life.js';
import type { UsualRate } from './plates/usual-rate.js';
import type { Press } from './press.js';

/** What the shop file carries of one station's plate from run to run. */
export type PlateLearned = { readonly lives: readonly Life[]; readonly usual: UsualRate };

/**
 * What one knob really does: asked against got, learned from its own moves and carried from run to run. Plain data.
 * `mean` and `cov`: gain towards +, gain towards −, slack when reversed (mm); cov row by row.
 */
export type KnobResponse = {
  readonly moves: number;
  readonly mean: readonly [number, number, number];
  readonly cov: readonly [number, number, number, number, number, number, number, number, number];
  /** Log odds that the print goes the way the knob's direction is taken to be. */
  readonly sense_log_odds: number;
  /** The direction was given by the press file or measured: moves may cast doubt on it, never turn it about. */
  readonly sense_given?: boolean;
  readonly last: 1 | -1 | null;
};

/** A check keeps the name it has in its file; in a run of ours they count from 1. */
export type CheckId = number | string;

export type PlateGrade = 'clean' | 'building' | 'dirty';

/** What a flaw looks like, in trade words. */
export type FlawKind = 'fill-in' | 'speck' | 'halo' | 'dried ink' | 'void';

/** At which edge of type and tones a flaw sits, as the web runs. */
export type FlawEdge = 'leading' | 'trailing';

/** Whether a flaw comes back at the same place every repeat (then it is the plate) or moves (then it is debris). */
export type FlawComes = 'same place' | 'moves';

/** What was read of one station off one sample; null = not read. Millimetres, + ahead / + operator side. */
export type StationReading = {
  readonly station: string;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
  /** Seen under the loupe or strobe, in tolerance or off, without a number. */
  readonly look: 'in' | 'off' | null;
  /** Which edge of the web the mark was read at, when it matters. */
  readonly edge: 'operator' | 'gear' | null;
  readonly plate: PlateGrade | null;
  readonly flaws: number | null;
  readonly labels: number | null;
  /** What the flaw is, where it sits and whether it comes back; asked only of a plate that is not clean. */
  readonly flaw_kind?: FlawKind | null;
  readonly flaw_edge?: FlawEdge | null;
  readonly flaw_comes?: FlawComes | null;
  /** Sensor checks: how many repeats were gathered, and the spread (1 sigma, mm) and mark strength (0–1) among them. */
  readonly n?: number;
  readonly spread_mm?: { readonly along: number | null; readonly across: number | null };
  readonly strength?: number | null;
  /** Mark width, mm, where the sensor sends it. */
  readonly width_mm?: number | null;
  readonly note?: string;
};

export type Begin = {
  readonly type: 'begin';
  readonly run: string;
  readonly press: Press;
  readonly job: Job;
  /** The rule set that judges, so an old log can say who judged it. */
  readonly rules: number;
  readonly program: string;
  readonly time_zone: string;
  /** What earlier runs taught of this press's knobs and this job's plates; in the log, so that the log alone judges the same. */
  readonly learned?: Learned;
  /** The run was not run here: the file that it was read from. */
  readonly imported?: { readonly file: string };
};

export type Learned = {
  readonly knobs?: Readonly<Record<string, PerAxis<KnobResponse>>>;
  readonly plates?: Readonly<Record<string, PlateLearned>>;
  /** Knobs that were measured, where the press file does not say it yet. */
  readonly measured?: MeasuredKnobs;
};

/** What one division of a knob moves the print, and whether its mark says the truth, by station and axis. */
export type MeasuredKnob = { readonly division_mm: number; readonly sense: 1 | -1 };
export type MeasuredKnobs = Readonly<Record<string, Readonly<Partial<Record<Axis, MeasuredKnob>>>>>;

/** A sample was taken off the web: counter, time and roll are of this moment, whenever it is keyed. */
export type Pull = {
  readonly type: 'pull';
  readonly check: CheckId;
  readonly web_m: number;
  /** Finished roll the sample came off, or null when not known. */
  readonly roll: string | null;
  /** 'keyed' off the press counter, or 'estimated' from speed and clock, then with the age of the last keyed one. */
  readonly counter: 'keyed' | 'estimated';
  readonly age_s?: number;
  /** Name of another sample place of the press file; null = sample_m. */
  readonly place: string | null;
};

/** What was read off the sample of a pull (same check number), or a check as a file or a sensor brings it. */
export type Check = {
  readonly type: 'check';
  readonly check: CheckId;
  /** Of the pull. */
  readonly web_m: number;
  readonly roll: string | null;
  /** ISO time of the pull; null when the file gives none. */
  readonly pulled_at: string | null;
  readonly source: 'keyed' | 'sensor';
  readonly place: string | null;
  readonly readings: readonly StationReading[];
  readonly note?: string;
};

/** OK to run, given on a full check by whoever passed it. */
export type OkToRun = {
  readonly type: 'ok';
  readonly web_m: number;
  /** The position that counts as zero from here on, in this log's metres; null = positions are already from OK to run. */
  readonly zero_m: number | null;
  readonly passed_by: string;
  readonly check: CheckId | null;
  /** Hold to dead register (the aims), or to the sample that was passed. */
  readonly hold_to: 'aim' | 'sample';
};

/** A move made on the press, as turned. */
export type Correction = {
  readonly type: 'correction';
  readonly station: string;
  readonly axis: Axis;
  /** With the sign of the print's move: + ahead / + operator side. teeth × tooth + divisions × division. */
  readonly move_mm: number;
  /** Signed like move_mm; null when only millimetres were given. */
  readonly teeth: number | null;
  readonly divisions: number | null;
  /** Where the counter stood; may lie before records already written (recorded late). */
  readonly web_m: number;
  /** Turned to measure the knob: move_mm is what the divisions are taken for until the knob is measured. */
  readonly trial?: true;
};

/** A knob was measured by turning it: from here on one division of it moves the print so far, and its mark says the truth (1) or the opposite (−1). */
export type KnobMeasured = {
  readonly type: 'knob';
  readonly station: string;
  readonly axis: Axis;
  readonly division_mm: number;
  readonly sense: 1 | -1;
  /** As turned, + the way the mark says ahead / operator side. */
  readonly divisions: number;
  readonly before_check: CheckId;
  readonly after_check: CheckId;
  /** Where the counter stood when it was last turned for it; lies before the check that told (recorded late). */
  readonly web_m: number;
};

export type NewStock = {
  readonly type: 'roll';
  readonly web_m: number;
  readonly length_m: number | null;
  /** Number and lot of the stock roll, as its label says. */
  readonly stock?: string;
  readonly lot?: string;
  readonly roll?: string | null;
  readonly also_finished?: boolean;
};
export type RollOff = { readonly type: 'finished'; readonly web_m: number; readonly roll: string };
export type Wash = { readonly type: 'wash'; readonly station: string; readonly web_m: number };
export type Speed = { readonly type: 'speed'; readonly web_m: number; readonly m_per_min: number };
export type Stop = { readonly type: 'stop'; readonly web_m: number };
export type Start = { readonly type: 'start'; readonly web_m: number; readonly m_per_min?: number };
export type NewPlate = { readonly type: 'plate'; readonly station: string; readonly web_m: number };
export type NewDie = { readonly type: 'die'; readonly web_m: number };
export type NewReference = { readonly type: 'reference'; readonly station: string; readonly web_m: number };
export type NewTolerance = {
  readonly type: 'tolerance';
  readonly web_m: number;
  /** A station id; its tolerance from here on, mm each way; null = unchanged. */
  readonly station: string;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
};
/** What carries the web was changed here: tension, dryer, stock or the web guide. `looked_to`: what was looked to or done, in words. */
export type WebSet = {
  readonly type: 'web-set';
  readonly web_m: number;
  readonly what: 'tension' | 'dryer' | 'stock' | 'web guide';
  readonly looked_to?: string;
};
/** Everything that is showing has been seen. */
export type Seen = { readonly type: 'seen'; readonly web_m: number };
/** A check (by its number) or any other entry (by seq) is taken back; the log keeps both. */
export type Withdraw = {
  readonly type: 'withdraw';
  readonly check: CheckId | null;
  readonly entry: number | null;
  readonly web_m: number | null;
  /** Why, in the words of who took it back. */
  readonly why?: string;
};
/** The press counter was set to another value: from here web position = counter + offset. */
export type CounterSet = { readonly type: 'counter'; readonly offset_m: number; readonly web_m: number };
/** The counter was read off the press while running or standing. */
export type CounterRead = { readonly type: 'position'; readonly web_m: number };
export type ShiftChange = {
  readonly type: 'shift';
  readonly web_m: number;
  readonly outgoing: string;
  readonly incoming: string | null;
  readonly note: string | null;
  /** What was read back, word for word, and whether it was; absent in older logs and when nobody took over. */
  readonly points?: readonly SignedPoint[];
  /** The page it was read from: its number in this run, the entries it was made from, and the chain behind them. */
  readonly page?: SignedPage;
};
export type SignedPoint = { readonly text: string; readonly read_back: boolean };
export type SignedPage = { readonly number: number; readonly entries: number; readonly head: string };
export type Note = {
  readonly type: 'note';
  readonly web_m: number | null;
  readonly text: string;
  readonly station?: string;
  /** The computer's clock was set by this much between the entry before and this one, ms, + forward. */
  readonly clock_ms?: number;
};
/** Life of the sensor's port. */
export type SensorLife = {
  readonly type: 'sensor';
  readonly state: 'attached' | 'lost' | 'back' | 'silent' | 'noisy' | 'flooding' | 'detached';
  readonly port: string;
  readonly detail: string;
};
/** What became of held product: hold → re-inspect → released / reworked / scrapped. Two persons release. */
export type HoldState = 'hold' | 're-inspect' | 'released' | 'reworked' | 'scrapped';
/** Held rolls (finished rolls) between two web positions were put in another state. */
export type HoldSet = {
  readonly type: 'hold';
  readonly from_m: number;
  readonly to_m: number;
  readonly rolls: readonly string[];
  readonly state: HoldState;
  /** Who released it beside the one who recorded it. */
  readonly by_second?: string;
  readonly note?: string;
};
/** Product put on hold by a person, whatever was read: rolls (all of the stretch when none is named), a stretch (all of the rolls when null). */
export type HeldByHand = {
  readonly type: 'held';
  readonly rolls: readonly string[];
  readonly from_m: number | null;
  readonly to_m: number | null;
  readonly why: string;
};
export type End = { readonly type: 'end'; readonly web_m: number };

/** Where nobody read the counter the place is carried on from speed and clock; a counter keyed later and lower makes it give way. */
export type MayBeEstimated = { readonly counter?: 'estimated' };

/** Everything that can be logged: facts in the past tense, the only vocabulary all rooms share. */
export type RecordBody =
  | Begin
  | Pull
  | Check
  | OkToRun
  | (Correction & MayBeEstimated)
  | KnobMeasured
  | (NewStock & MayBeEstimated)
  | (RollOff & MayBeEstimated)
  | (Wash & MayBeEstimated)
  | (Speed & MayBeEstimated)
  | (Stop & MayBeEstimated)
  | (Start & MayBeEstimated)
  | (NewPlate & MayBeEstimated)
  | (NewDie & MayBeEstimated)
  | (NewReference & MayBeEstimated)
  | (NewTolerance & MayBeEstimated)
  | (WebSet & MayBeEstimated)
  | Seen
  | Withdraw
  | CounterSet
  | CounterRead
  | (ShiftChange & MayBeEstimated)
  | Note
  | SensorLife
  | HoldSet
  | HeldByHand
  | (End & MayBeEstimated);

/** Version of the vocabulary above; 2 brought holds made by hand, what was signed, and lines that are chained. Older ones are read as they are. */
export const RECORD_VERSION = 2;

/** Order is `seq`; wall clocks jump. `at` is ISO 8601 UTC; `by` an operator's name or initials, 'sensor' or 'program'. */
export type RecordHead = { readonly v: number; readonly seq: number; readonly at: string; readonly by: string };

export type LogRecord = RecordHead & RecordBody;
