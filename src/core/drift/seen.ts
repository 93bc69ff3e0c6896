import type { PerAxis } from '../axis.js';
import type { CheckId } from '../record.js';

/** What the watch must know of a run; stations in web order, the reference among them. mm and m. */
export type WatchConfig = {
  readonly stations: readonly {
    readonly id: string;
    /** Web path from the reference, m; negative upstream of it. */
    readonly path_m: number;
    readonly isReference: boolean;
    /** Whether numbers can come for it at all. */
    readonly measured: boolean;
  }[];
  readonly resolution_mm: number;
  /** Check-to-check scatter believed before any data (1 sigma). */
  readonly spread_mm: PerAxis<number>;
  readonly spread_worth_checks: number;
  /** About one false notice in this many checks of the whole press, both axes together. */
  readonly asked: number;
  /** The aims are themselves one reading, of the passed sample. */
  readonly aims_read?: boolean;
  /**
   * From its first check on a station may stand off its aim by as much as a reading of the loupe scatters: the aims are such a reading, or a sensor
   * looks closer than the loupe by which the stations were set.
   */
  readonly stands_off?: boolean;
};

/**
 * One check as the watch sees it, arrays in the order of WatchConfig.stations.
 * `read`: reading minus aim against the reference, mm; null = not measured (the reference is always null).
 * `turned`: sum of all known corrections that the sample already carries, as it acts on that READING (a reference move of +m counts −m on
 * every other station); so read − turned is what it would read had nobody touched it, up to knob error.
 */
export type Seen = {
  readonly check: CheckId;
  readonly web_m: number;
  /** Finished or stock roll changed since the check before; readings settling after a start or splice. */
  readonly roll_change: boolean;
  readonly settling: boolean;
  /** Another label of the sample read before: nothing on the press can have moved in between. */
  readonly same_sample?: boolean;
  /** Something reads outside tolerance on this axis: a fact that must be spoken of, so less evidence is asked of what explains it. */
  readonly out?: PerAxis<boolean>;
  readonly along: { readonly read: readonly (number | null)[]; readonly turned: readonly number[] };
  readonly across: { readonly read: readonly (number | null)[]; readonly turned: readonly number[] };
};
