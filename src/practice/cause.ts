import type { Axis } from '../core/axis.js';

/** What befalls the practice press. Millimetres of the print (+ ahead / + operator side); positions are counter metres. */
export type PracticeCause =
  /** A knob whose lock is loose creeps; whoever turns it does the lock up, unless the creep is wear (`held` false). */
  | {
      readonly kind: 'creep';
      readonly station: string;
      readonly axis: Axis;
      readonly from_m: number;
      readonly mm_per_km: number;
      readonly held: boolean;
    }
  /** A plate slips or a knob is knocked: a step. */
  | { readonly kind: 'slip'; readonly station: string; readonly axis: Axis; readonly at_m: number; readonly mm: number }
  /** A gear jumps by whole teeth. */
  | { readonly kind: 'tooth'; readonly station: string; readonly at_m: number; readonly teeth: number }
  /** The web's tension changes, commonly with new stock: every print moves in proportion to its web path. */
  | { readonly kind: 'tension'; readonly at_m: number; readonly mm_per_m: number }
  /** Tension that rises as the unwind roll grows small, and starts anew with each stock roll. */
  | { readonly kind: 'unwind'; readonly mm_per_m: number }
  /** Away from register after a start, coming back by itself in a straight line over so many metres. */
  | { readonly kind: 'warm-up'; readonly at_m: number; readonly mm_per_m: number; readonly over_m: number }
  /** A plate fills in: flaws a label grow by so many a kilometre; one a label is dirty. */
  | { readonly kind: 'dirt'; readonly station: string; readonly from_m: number; readonly flaws_per_km: number }
  /** On the first sample pulled from here on, one label's mark is a bad one: it reads off by so much, the next label does not. */
  | {
      readonly kind: 'misread';
      readonly station: string;
      readonly axis: Axis;
      readonly at_m: number;
      readonly mm: number;
    };

/** A knob that is not as others: `slack_mm` is lost whenever its direction is reversed. */
export type KnobTrait = { readonly station: string; readonly axis: Axis; readonly slack_mm: number };

/** From which counter on a cause is there; null = from the beginning. */
export const beganAt = (cause: PracticeCause): number | null =>
  cause.kind === 'unwind' ? null : 'at_m' in cause ? cause.at_m : cause.from_m;
