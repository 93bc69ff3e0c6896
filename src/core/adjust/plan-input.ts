import type { Axis } from '../axis.js';
import type { Cause } from '../finding.js';
import type { Knob } from '../press.js';
import type { RegisterUnit } from '../units.js';

/** One station as the planner sees it on one axis. */
export type PlanStation = {
  readonly id: string;
  /** What the operator calls it: "4 grey". */
  readonly name: string;
  readonly kind: 'print' | 'die';
  /** Web path from the reference, m; negative upstream. */
  readonly path_m: number;
  /** Cannot be moved on this axis. */
  readonly fixed: boolean;
  /** Whether numbers come for it at all: a second label can be read there. */
  readonly measured: boolean;
  /** True register now against its aim, mm, and its 1 sigma; null = not known. The reference's own is 0. */
  readonly level_mm: number | null;
  readonly sd_mm: number | null;
  readonly tolerance_mm: number;
  readonly knob: Knob;
  /** Sum of its knob's moves since it was centred, mm, signed like the print. */
  readonly used_mm: number;
  /** Print movement got per movement turned, learned, towards + and towards −; 1 when nothing is known. */
  readonly gain: { readonly plus: number; readonly minus: number };
  /** Learned slack when the knob's direction is reversed, mm; null = not known. */
  readonly backlash_mm: number | null;
  /** Direction of the knob is known, from the press file or from a move that was seen to take. */
  readonly proved: boolean;
  /** Level along, when this plan is for across on helical gears; null = not known. */
  readonly along_mm: number | null;
};

/** The question put to the planner: what is off, why, and what can be turned. */
export type PlanInput = {
  readonly axis: Axis;
  readonly cause: Cause;
  readonly reference: string;
  /** In web order, the reference among them. */
  readonly stations: readonly PlanStation[];
  /** Only pairs with a tolerance on this axis. */
  readonly pairs: readonly { readonly stations: readonly [string, string]; readonly tolerance_mm: number }[];
  /** The pair whose difference is out, when that is the trouble. */
  readonly pair: readonly [string, string] | null;
  readonly tooth_mm: number;
  readonly repeat_mm: number;
  readonly helix_deg: number;
  readonly resolution_mm: number;
  /** Something is outside tolerance now: then nothing waits for a second label. */
  readonly anything_out: boolean;
  /** A second label was read since and says the same. */
  readonly second_read: boolean;
  /** Tension, dryer and stock were looked to and the web is still off. */
  readonly web_checked: boolean;
  readonly unit: RegisterUnit;
  /** How much further than its aim the one thing that is turned goes, mm, with the sign of the move: it is still going the other way. */
  readonly past_mm?: number;
};
