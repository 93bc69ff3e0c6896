import type { Axis, PerAxis } from './axis.js';

/** What the hand does on a knob. */
export type Hand = 'clockwise' | 'anticlockwise';

/** One register knob as far as it is known; null = not measured. */
export type Knob = {
  /** Print movement of one division of the knob, mm. */
  readonly division_mm: number | null;
  /** How far the knob can go each way from centre, mm. */
  readonly travel_mm: number | null;
  /** Centred before each run, so that its moves tell what travel is left; absent = where it stood at first is not known. */
  readonly centred?: true;
  /** −1: the knob's own mark says the opposite of what the print does. */
  readonly sense: 1 | -1;
  /** Whether the file says the sense; if not, a one-division trial move is asked first. */
  readonly sense_given: boolean;
  /** What this press calls a division. */
  readonly word: string;
  /** Whether it may be turned on a running press; null = not said. */
  readonly while_running: boolean | null;
  /** What the hand does to move the PRINT ahead (along) or to the operator side (across). */
  readonly hand_plus: Hand | null;
};

/** A print unit or the die, at its place on the web path. */
export type PressStation = {
  readonly id: string;
  readonly kind: 'print' | 'die';
  /** Metres of web path from the unwind. */
  readonly at_m: number;
  /** Axes on which it cannot be moved: there the print is brought to it. */
  readonly fixed: readonly Axis[];
  readonly knobs: PerAxis<Knob>;
};

/** A press with every default filled in; stations in web order (by at_m). */
export type Press = {
  readonly name: string;
  /** Gear system by name as given, or null when only tooth_mm was. */
  readonly gear: string | null;
  /** Circular pitch: print movement of one gear tooth, mm. */
  readonly tooth_mm: number;
  readonly web_runs: 'left-to-right' | 'right-to-left';
  readonly roll_change: 'running' | 'stops' | null;
  readonly stations: readonly PressStation[];
  /** Web path place, m, where a sample pulled at the rewind stands when the counter is read. */
  readonly sample_m: number;
  /** Other places where samples can be taken, by name, m. */
  readonly samples: Readonly<Record<string, number>>;
  /** Where a sensor reads the web, m; null = not said (then as sample_m). */
  readonly sensor_m: number | null;
  /** Helix angle of the drive gears, degrees; 0 = spur. */
  readonly helix_deg: number;
  /** Key paths that were not given and stand at a default. */
  readonly not_measured: readonly string[];
};
