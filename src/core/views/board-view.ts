import type { Axis, PerAxis } from '../axis.js';
import type { CounterStretch } from '../counter.js';
import type { Cause, Move, ReachLimit, Severity, Shape } from '../finding.js';
import type { CheckId, PlateGrade } from '../record.js';
import type { OpenTrial } from '../run/open-trial.js';
import type { StationOutlook } from '../run/outlook.js';
import type { LoupeBias } from '../sensor-bias.js';
import type { LengthUnit, RegisterUnit } from '../units.js';
import type { FoundBy } from './event-words.js';
import type { HoldLine } from './hold-lines.js';
import type { RollView } from './roll-views.js';
import type { Todo } from './todo.js';

/** State of a station on an axis, in the words of the trade. */
export type RegisterState = 'holding' | 'moved' | 'drifting' | 'out' | 'not enough readings' | 'not read';

/** make-ready → (OK to run) running / stopped / settling → ended. */
export type Phase = 'make-ready' | 'running' | 'stopped' | 'settling' | 'ended';

export type StationAxisView = StationOutlook & {
  readonly tolerance_mm: number;
  readonly aim_mm: number;
  /** Last reading minus aim, mm, + ahead / + operator side; null = never read on this axis. */
  readonly last_mm: number | null;
  readonly last_check: CheckId | null;
  /** Last look without a number, if it came after the last reading. */
  readonly looked: 'in' | 'off' | null;
  readonly state: RegisterState;
  /** Knob travel left toward + and toward −, mm; null = travel not given. */
  readonly travel_left_mm: { readonly plus: number; readonly minus: number } | null;
  readonly fixed: boolean;
  /** How far it creeps in a finished roll, mm, where the readings since the last turn show that it does; absent = not shown. */
  readonly creep_mm_roll?: number;
  /** Keyed readings against the sensor's on the same web; absent = no sensor read it beside a keyed one. */
  readonly loupe?: LoupeBias;
};

export type PlateView = {
  readonly grade: PlateGrade | null;
  /** Flaws counted in so many labels at the last check that counted. */
  readonly flaws: { readonly flaws: number; readonly labels: number } | null;
  readonly flag: 'building' | 'dirty' | 'wash-due' | null;
  readonly why: string | null;
  /** What was said of the flaw, as a sentence, '' = nothing; and where to look for its cause, as a suggestion. */
  readonly flaw: string;
  readonly cause: string | null;
  readonly last_wash_m: number | null;
  /** The last wash: whether a sample printed since has been seen, and what it was washed of and whether it helped, '' = nothing. */
  readonly washed: { readonly seen: boolean; readonly words: string } | null;
};

export type StationView = {
  readonly id: string;
  /** Station and ink as the operator says it: "4 grey", "die". */
  readonly label: string;
  readonly kind: 'print' | 'die';
  readonly is_reference: boolean;
  readonly read: 'measure' | 'look' | 'never';
  readonly at_m: number;
  readonly axes: PerAxis<StationAxisView>;
  readonly plate: PlateView;
  /** Ids of stations it traps with. */
  readonly traps_with: readonly string[];
  /** One of the stations most worth measuring at the next check. */
  readonly worth_measuring: boolean;
  /** What the press calls a knob division, and its size, for acting on the board. */
  readonly knob: PerAxis<KnobView>;
};

export type KnobView = {
  readonly word: string;
  readonly division_mm: number | null;
  /** What its mark is taken to say: −1 = the opposite of what the print does. */
  readonly sense: 1 | -1;
  /** Which way, by its mark, it was turned last; null = not known. */
  readonly last_way: 1 | -1 | null;
  /** The last reading, where it shows the press as it is set now: what a trial of the knob can start from. */
  readonly before: { readonly check: CheckId; readonly mm: number } | null;
};

export type PairView = {
  readonly stations: readonly [string, string];
  readonly axis: Axis;
  readonly tolerance_mm: number;
  /** Second minus first, mm; null = not both read. */
  readonly apart_mm: number | null;
  readonly out: boolean;
};

export type EventView = {
  readonly id: number;
  readonly axis: Axis;
  readonly cause: Cause;
  readonly severity: Severity;
  readonly shape: Shape;
  readonly confidence: number;
  /** "sure" / "likely" / "not sure: read again". */
  readonly how_sure: string;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  readonly moved_mm: number;
  readonly open: boolean;
  readonly how_closed: 'corrected' | 'recovered' | 'withdrawn' | null;
  /** The check that read another label of its sample and did not find it there; absent = it was not disproved so. */
  readonly misread?: CheckId;
  readonly seen: boolean;
  /** One plain sentence: "4 grey is drifting ahead: 0.09 mm since roll 7, likely." */
  readonly sentence: string;
  /** The same in few words, for one line: "4 grey is drifting ahead: 0.09 mm, likely." */
  readonly short: string;
  /** Each station's share of the movement, mm, as it lies in station space, for drawing on the strip. */
  readonly shifts_mm: readonly { readonly station: string; readonly mm: number }[];
  readonly out_before_next_check: number;
  readonly reach: ReachLimit | null;
  /** What was done about it, in words, oldest first. */
  readonly done: readonly string[];
  /** What it was found by; absent = a movement. */
  readonly found_by?: FoundBy;
  /** Stations whose knob was turned for it, as they are called; absent = none. */
  readonly turned?: readonly string[];
  /** What the readings since say of it; absent = they were not asked. */
  readonly hindsight?: 'borne out' | 'other' | 'again' | 'misread' | 'not borne out';
};

/** A sample that was read: where it was pulled, off which roll, and whose old setting it shows. */
export type LastSample = {
  readonly check: CheckId;
  readonly web_m: number;
  readonly roll: string | null;
  readonly shows_old_setting: readonly string[];
};

/** What to do now. */
export type Instruction = {
  readonly urgency: 'calm' | 'note' | 'act' | 'out';
  /** One sentence in the operator's words and units. */
  readonly sentence: string;
  /** One line. */
  readonly why: string;
  /** What the hand does, one line a move. */
  readonly hand: readonly string[];
  /** What stations will read afterwards, in words; empty when nothing is to be turned. */
  readonly after: string;
  /** From which counter on a sample tells; null when nothing is to be turned. */
  readonly tells_from_m: number | null;
  readonly caution: string;
  readonly moves: readonly Move[];
  readonly read_again: readonly string[];
  readonly event: number | null;
};

/** A knob that was turned to be measured, and what was read since. */
export type TrialView = OpenTrial;

/** When the next check is due, in metres and minutes from here; why in words. */
export type NextCheckView = {
  readonly why: string;
  readonly in_m: number | null;
  readonly in_min: number | null;
  readonly overdue: boolean;
  /** Asked for now by something that was changed, whatever the plan says. */
  readonly asked?: boolean;
  /** Web position from which on a sample tells what was turned. */
  readonly from_m?: number;
};

export type BoardView = {
  readonly run: string;
  readonly job: string;
  readonly press: string;
  readonly units: { readonly register: RegisterUnit; readonly length: LengthUnit };
  readonly repeat_mm: number;
  readonly tooth_mm: number;
  readonly web_runs: 'left-to-right' | 'right-to-left';
  readonly phase: Phase;
  /** Where looking only, not turning, is asked until; null = not settling. */
  readonly settle_until_m: number | null;
  readonly position: {
    /** Web position, m from OK to run; null until a counter was keyed. */
    readonly web_m: number | null;
    /** What the press counter shows = web position + this; 0 where they agree. */
    readonly counter_minus_web_m: number;
    /** The same for every place of the run; absent = the counter was never set anew. */
    readonly counters?: readonly CounterStretch[];
    readonly estimated: boolean;
    /** Seconds since the counter was last keyed or read. */
    readonly age_s: number | null;
    readonly speed_m_min: number | null;
  };
  readonly finished_roll: {
    readonly running: string | null;
    readonly last_off: string | null;
    /** Metres wound since the last one came off. */
    readonly since_m: number | null;
  };
  /** The last finished rolls, oldest first. */
  readonly rolls: readonly RollView[];
  readonly next_check: NextCheckView | null;
  /** A sample pulled and not keyed yet, oldest first. */
  readonly pulled: readonly {
    readonly check: CheckId;
    readonly web_m: number;
    readonly at: string;
    readonly roll: string | null;
    readonly shows_old_setting: readonly string[];
  }[];
  /** Number that the next check will get. */
  /** The keyed sample read last, of which another label may be read; absent = none yet. */
  readonly last_sample?: LastSample;
  readonly next_check_id: CheckId;
  readonly stations: readonly StationView[];
  readonly pairs: readonly PairView[];
  /** Open ones first (out, act, note), then closed ones, newest first. */
  readonly events: readonly EventView[];
  /** A knob that was turned to be measured, and is not yet. */
  readonly trial: TrialView | null;
  readonly instruction: Instruction;
  /** Everything there is to do, worst first, a line each; never empty. */
  readonly todo: readonly Todo[];
  /** Product on hold, with why and what would end it. */
  readonly hold: readonly (Pick<HoldLine, 'sentence' | 'open'> & Partial<HoldLine>)[];
  readonly checks_made: number;
  readonly sensor: { readonly state: string; readonly words: string } | null;
  /** What is wrong with the disk under the run, in words; the rim knows, the log does not. */
  readonly trouble?: string | null;
  /** Last acts, newest last, for taking one back: seq and words. */
  readonly acts: readonly {
    readonly seq: number;
    readonly at: string;
    readonly words: string;
    readonly withdrawn: boolean;
    /** It cannot be taken back. */
    readonly stays?: true;
  }[];
  readonly operator: string | null;
  /** Whether OK to run could be given now, or why not, in words. */
  readonly ok_to_run: { readonly possible: boolean; readonly why: string };
};
