import type { Axis, PerAxis } from './axis.js';
import type { LengthUnit, RegisterUnit } from './units.js';

/** How a station's register is read: measured, only looked at, or never (no readable mark). */
export type ReadKind = 'measure' | 'look' | 'never';

export type JobStation = {
  readonly id: string;
  readonly ink: string | null;
  /** Where the mark should lie against the reference, mm. */
  readonly aim_mm: PerAxis<number>;
  readonly read: ReadKind;
};

/** Two colours that trap one another: their difference has its own tolerance, mm; null = none on that axis. */
export type Pair = {
  readonly stations: readonly [string, string];
  readonly tolerance_mm: PerAxis<number | null>;
};

/** When a check is due: at each finished roll, every so many metres, every so many minutes. */
export type CheckPlan = {
  readonly every_roll: boolean;
  readonly every_m: number | null;
  readonly every_min: number | null;
};

/** How a sensor's repeats become checks. */
export type SensorChecks = {
  readonly by: 'repeats' | 'metres' | 'seconds';
  /** Repeats, metres or seconds in one check. */
  readonly size: number;
  /** Marks of a station that the sensor reads in one repeat; 1 = one. */
  readonly marks_per_repeat: number;
  /** Fewest good readings of a station that make a value; below, it was not read. */
  readonly fewest_good: number;
};

/** Checks of 50 repeats, one mark a repeat, when the job does not say. Common practice, no source. */
export const SENSOR_CHECKS: SensorChecks = { by: 'repeats', size: 50, marks_per_repeat: 1, fewest_good: 5 };

/** What the job was made from and for, as words: nothing is judged by it, all of it is on the papers. null = not given. */
export type Traced = {
  readonly order: string | null;
  readonly customer: string | null;
  /** Labels ordered. */
  readonly quantity: number | null;
  readonly substrate: string | null;
  readonly substrate_lot: string | null;
  readonly plate_set: string | null;
  readonly die_number: string | null;
  readonly stations: Readonly<Record<string, { readonly ink_lot: string | null; readonly anilox: string | null }>>;
  readonly extra: Readonly<Record<string, string>>;
};
/** A third of the tolerance for make-ready, the rest for the run. This project's choice, no source. */
export const BRING_IN = 1 / 3;

/** A job on a press with every default filled in. */
export type Job = {
  readonly name: string;
  readonly units: { readonly register: RegisterUnit; readonly length: LengthUnit };
  readonly repeat_teeth: number;
  readonly labels_across: number;
  readonly labels_around: number;
  readonly marks: 'label' | 'waste' | 'trim';
  /** The station the others are read against. */
  readonly reference: string;
  /** In the order of the file; the run orders them by web path. */
  readonly stations: readonly JobStation[];
  /** By station id, mm each way from the aim. */
  readonly tolerance_mm: Readonly<Record<string, PerAxis<number>>>;
  readonly pairs: readonly Pair[];
  readonly reading: {
    readonly resolution_mm: number;
    /** Check-to-check scatter expected before any data, 1 sigma, mm. */
    readonly spread_mm: PerAxis<number>;
    /** How many checks of evidence that belief is worth. */
    readonly spread_worth_checks: number;
  };
  readonly checks: CheckPlan;
  /** Absent in runs begun before it could be set: as `SENSOR_CHECKS`. */
  readonly sensor_checks?: SensorChecks;
  /** Absent where the file gives nothing of it. */
  readonly traced?: Traced;
  /** Part of its tolerance to which a station is brought in before OK to run; absent in runs begun before it could be set: as `BRING_IN`. */
  readonly bring_in?: number;
  /** Metres after a start, splice or big speed change during which readings settle. */
  readonly settle_m: number;
  /** Usual length of a finished roll, m; null = not said. */
  readonly finished_roll_m: number | null;
  /** About one false notice in this many checks of the whole press. */
  readonly false_notice: { readonly keyed: number; readonly sensor: number };
};

/** Length of the printing repeat on this press, mm. */
export const repeatMm = (press: { readonly tooth_mm: number }, job: Pick<Job, 'repeat_teeth'>): number =>
  job.repeat_teeth * press.tooth_mm;

/** Tolerance of a station on an axis, mm each way. */
export const toleranceOf = (job: Job, station: string, axis: Axis): number =>
  job.tolerance_mm[station]?.[axis] ?? Infinity;
