import type { PerAxis } from '../core/axis.js';
import type { KnobTrait, PracticeCause } from './cause.js';

/** One exercise: how the press stands at the start and what befalls it. Nothing in it is left to chance but reading scatter. */
export type Exercise = {
  /** 1 to 6, 'free', or the name in an instructor's file. */
  readonly id: string;
  readonly title: string;
  /** What the student is told before; never the cause. */
  readonly task: string;
  readonly seed: number;
  /** Starts in make-ready; otherwise passed and running. */
  readonly make_ready: boolean;
  /** Make-ready begins at a standstill with the print thrown off. */
  readonly standing: boolean;
  /** Where each station's print lies against true at the start, mm; the rest 0. */
  readonly out_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly causes: readonly PracticeCause[];
  readonly knobs: readonly KnobTrait[];
  /** Counter values at which new stock is spliced in. */
  readonly splices_m: readonly number[];
  /** The exercise ends here. */
  readonly to_m: number;
};

/** What each thing costs, metres of web that are waste. Invented for the game, near what a narrow press takes. */
export const COST = {
  /** Cut out of the finished roll for a sample. */
  sample_m: 3,
  /** Run meanwhile, while a sample is read during the run. */
  reading_m: 30,
  /** Not saleable after each start. */
  restart_m: 20,
} as const;

/** Reading with a loupe and each unit trembling, 1 sigma, mm; what is read is rounded to a hundredth. */
export const SCATTER = { reading_mm: 0.025, tremble_mm: 0.01, step_mm: 0.01 } as const;

export const LABELS_LOOKED = 5;
