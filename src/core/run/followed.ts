import type { Axis } from '../axis.js';
import type { Movement as Watched } from '../drift/movement.js';
import type { ReachLimit } from '../finding.js';
import type { CheckId } from '../record.js';
import type { Measured } from './measured.js';
import type { PairRead } from './pairs.js';
import type { Turned } from './state.js';
import type { Station } from './stations.js';

/** What is foreseen for one station on the axis. */
export type Outlook = { readonly p_out: number; readonly reach: ReachLimit | null; readonly level_mm: number | null };

/** One check, one axis, as the life of movements sees it. */
export type Followed = {
  readonly axis: Axis;
  readonly check: CheckId;
  readonly web_m: number;
  readonly at: string;
  readonly stations: readonly Station[];
  readonly reference: string;
  readonly found: readonly Watched[];
  readonly measured: readonly Measured[];
  readonly toleranceOf: (station: string) => number;
  readonly pairs: readonly PairRead[];
  readonly outlook: (station: string) => Outlook;
  /** Stations that are to be turned at this check, the reference among them. */
  readonly turning: readonly string[];
  /** Fixed stations outside tolerance to which all the print is brought. */
  readonly meets: readonly string[];
  readonly tooth_mm: number;
  readonly turns: readonly Turned[];
  /** Keyed and sensor watches number their movements apart. */
  readonly watchBase: 0 | 1;
};
