import type { Axis } from '../axis.js';
import type { CheckId } from '../record.js';

/** The chart of one station and axis along the web; m, and mm less the aim (as the numbers on the board are); everything oldest first. */
export type ChartView = {
  readonly station: string;
  readonly axis: Axis;
  readonly from_m: number;
  readonly to_m: number;
  readonly aim_mm: number;
  readonly tolerance_mm: number;
  readonly points: readonly {
    readonly web_m: number;
    readonly mm: number;
    readonly check: CheckId;
    readonly sensor: boolean;
    readonly withdrawn: boolean;
    readonly signal: boolean;
  }[];
  /** Level as followed at each point: smoothed, and with what was turned. */
  readonly trend: readonly { readonly web_m: number; readonly mm: number }[];
  /** Three-sigma limits of single readings about the aim, or null while scatter is not known. */
  readonly limits_mm: { readonly lower: number; readonly upper: number } | null;
  /** Where the open movement on this station began. */
  readonly began_m: number | null;
  /** Expected path with its 80 % interval, from the last reading on. */
  readonly cone: readonly {
    readonly web_m: number;
    readonly mean_mm: number;
    readonly low_mm: number;
    readonly high_mm: number;
  }[];
  readonly rolls: readonly {
    readonly web_m: number;
    readonly roll: string | null;
    readonly kind: 'finished' | 'stock';
  }[];
  readonly corrections: readonly { readonly web_m: number; readonly move_mm: number }[];
  readonly washes: readonly { readonly web_m: number }[];
  readonly speeds: readonly { readonly web_m: number; readonly m_per_min: number }[];
  readonly stops: readonly { readonly web_m: number; readonly kind: 'stop' | 'start' }[];
};
