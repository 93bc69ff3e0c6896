import type { CheckId, PlateGrade } from '../record.js';
import type { ChangepointState } from '../spc/changepoint.js';
import type { Life } from './fit-life.js';
import type { Flaw } from './flaw.js';
import type { LifeBelief } from './life.js';
import type { Look } from './rise.js';
import type { UsualRate } from './usual-rate.js';

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

/** What the shop file carries of one station's plate from run to run. */
export type PlateLearned = { readonly lives: readonly Life[]; readonly usual: UsualRate };

export type PlatesState = {
  readonly learned: Readonly<Record<string, PlateLearned>>;
  readonly stations: Readonly<Record<string, PlateState>>;
  /** Where the next check was expected at the last one; null = nothing says. */
  readonly next_check_m: number | null;
};
