import type { Places } from '../counter.js';
import type { CheckId, PlateGrade, PlateLearned } from '../record.js';
import type { ChangepointState } from '../spc/changepoint.js';
import type { Life } from './fit-life.js';
import type { Flaw } from './flaw.js';
import type { LifeBelief } from './life.js';
import type { Look } from './rise.js';
import type { UsualRate } from './usual-rate.js';

export type { PlateLearned } from '../record.js';

export type PlatesConfig = {
  /** Stations with a plate, in web order. */
  readonly stations: readonly string[];
  /** About one false flag in so many checks of the whole press. */
  readonly asked: number;
  readonly roll_change: 'running' | 'stops' | null;
};

/** What was seen of one plate on one sample; null = not looked at. */
export type PlateSeen = {
  readonly station: string;
  readonly grade: PlateGrade | null;
  readonly flaws: number | null;
  readonly labels: number | null;
  /** What the flaw is, of a plate that is not clean. */
  readonly flaw?: Flaw;
  /** Mark strength 0–1 and width, mm, off a sensor. */
  readonly strength?: number | null;
  readonly width_mm?: number | null;
  /** Web position at which this station printed the sample. */
  readonly printed_m: number;
};

export type PlatesCheck = {
  readonly check: CheckId;
  /** Counter at the sample place. */
  readonly web_m: number;
  readonly seen: readonly PlateSeen[];
  /** Where the next check is expected; null = not known. */
  readonly next_check_m: number | null;
  /** A stop that is coming anyway, and the one after it; null = none known. A roll change only where the press stops for it. */
  readonly stop: { readonly web_m: number; readonly why: string; readonly next_m: number | null } | null;
  /** What places are told with; absent = as they are, in metres. */
  readonly places?: Places;
};

export type Flag = {
  readonly state: 'building' | 'dirty';
  readonly why: string;
  readonly since: { readonly check: CheckId; readonly web_m: number };
  /** Odds-based certainty 0–1; 1 where it was graded. */
  readonly sure: number;
};

/** Everything kept of one plate; plain data. */
export type PlateState = {
  readonly grade: PlateGrade | null;
  /** Where an unbroken run of grades that were not clean began, and how many there are. */
  readonly unclean: { readonly check: CheckId; readonly web_m: number; readonly times: number } | null;
  readonly flag: Flag | null;
  /** Successive checks since the flag at which nothing was found. */
  readonly calm: number;
  /** What was last said of the flaw; a plate seen clean since has none. */
  readonly flaw: Flaw;
  /** This life: where it began, the last place it was seen clean, whether its end was counted. */
  readonly start_m: number;
  readonly clean_m: number | null;
  readonly ended: boolean;
  readonly lives: readonly Life[];
  readonly belief: LifeBelief | null;
  /** Last wash, what had been flagged then and what the flaw was, and whether it helped; null = not judged yet. */
  readonly wash: {
    readonly web_m: number;
    readonly was: 'building' | 'dirty' | null;
    readonly flaw: Flaw;
    readonly helped: boolean | null;
  } | null;
  readonly due_said: boolean;
  readonly usual: UsualRate;
  readonly looks: readonly Look[];
  /** Mark strength and width off a sensor, where sent. */
  readonly strength: ChangepointState | null;
  readonly width: ChangepointState | null;
};

export type PlatesState = {
  readonly learned: Readonly<Record<string, PlateLearned>>;
  readonly stations: Readonly<Record<string, PlateState>>;
  /** Where the next check was expected at the last one; null = nothing says. */
  readonly next_check_m: number | null;
};
