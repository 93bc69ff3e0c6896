import type { Axis } from '../axis.js';
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

/** What can be turned on one axis, and from where. */
export type PlanInput = {
  readonly axis: Axis;
  readonly reference: string;
  /** In web order, the reference among them. */
  readonly stations: readonly PlanStation[];
  /** Only pairs with a tolerance on this axis. */
  readonly pairs: readonly { readonly stations: readonly [string, string]; readonly tolerance_mm: number }[];
  readonly tooth_mm: number;
  readonly repeat_mm: number;
  readonly helix_deg: number;
  readonly resolution_mm: number;
  readonly unit: RegisterUnit;
};
