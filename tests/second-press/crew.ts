/** What a crew (a policy of operators) is told and what it may do. Nothing here knows the truth. */

/** With the web, or side to side. along > 0: the print is ahead (downstream); across > 0: toward the operator side. */
export type Axis = 'along' | 'across';
export const AXES: readonly Axis[] = ['along', 'across'];

export type StationInfo = {
  readonly id: string;
  readonly kind: 'print' | 'die';
  /** Web path from the first station, m. */
  readonly atM: number;
  /** Register tolerance each way, mm. */
  readonly tolerance: Readonly<Record<Axis, number>>;
  /** Move of the print by one division of the knob as the knob's plate says, mm. */
  readonly divisionMm: Readonly<Record<Axis, number>>;
};

/** What the job ticket and the press's own plates say. All lengths mm unless the name ends in M (metres). */
export type Layout = {
  readonly stations: readonly StationInfo[];
  readonly referenceId: string;
  readonly dieId: string;
  /** Web path from the first station to where the sample is torn off, m. */
  readonly sampleM: number;
  hasKnob(stationId: string, axis: Axis): boolean;
  /** Standard deviation of one reading the job believes, mm; may be told wrongly. */
  readonly believedScatterMm: number;
  /** Graduation of the loupe, mm. */
  readonly graduationMm: number;
  readonly speedMPerMin: number;
  readonly finishedRollM: number;
  readonly repeatMm: number;
  /** The shop's habit: a check sample is pulled after every correction. */
  readonly followUp: boolean;
};

/** A station's place against the reference on one label, mm; null: not offered for reading on this pass. */
export type Reading = { readonly along: number | null; readonly across: number | null };

/** A stretch of counter, m. */
export type Span = { readonly fromM: number; readonly toM: number };

export type Desk = {
  /** The counter now, m from OK to run. Goes on while the crew reads and turns. */
  counterM(): number;
  /** Where the counter stood when this sample was pulled, m. */
  readonly pulledAtM: number;
  /** Finished roll this sample was pulled from, counted from 1 (0 at OK). */
  readonly rollNumber: number;
  /** Pulled because the crew asked for it, not at a roll change. */
  readonly extra: boolean;
  /** The stock roll was changed since the last sample (its splice has passed the first station). */
  readonly spliced: boolean;
  /** Stations that may be read on the first pass; all of them unless the scenario is `partial`. */
  readonly offered: readonly string[];
  /**
   * The first call for a station reads the first label, each further call reads another label of the same sample.
   * Costs 0.15 min. The reference reads 0, 0 and costs nothing. Where the station is not offered the first call gives
   * nulls and costs nothing; a second call reads the first label.
   */
  read(stationId: string): Reading;
  /**
   * Turn a register knob by whole divisions: + advances the print / moves it toward the operator side. Costs 0.4 min and
   * then takes effect. Gives back the divisions the hand believes it turned (0 where there is no knob).
   */
  turn(stationId: string, axis: Axis, divisions: number): number;
  /** Look to the tension and put it right as far as can be; 3 min. True: something was found and changed. */
  setTension(): boolean;
  wait(minutes: number): void;
  /** Ask for an extra sample so many metres from now. At most one is pending; the earliest is kept. */
  sampleAfter(metres: number): void;
};

export type Crew = {
  readonly name: string;
  /** At OK to run, counter 0. */
  ok(desk: Desk): void;
  /** At each sample pulled. */
  sample(desk: Desk): void;
  /** Counter spans of product put on hold, asked once at the end of the run. */
  held?(): readonly Span[];
};

/** What only a rival that is told the truth may use. An honest crew leaves it alone. */
export type Hidden = {
  /** True systematic error of a station now at the station (no web lag, no label scatter), mm. */
  error(stationId: string, axis: Axis): number;
  /** Its rate of change as far as it is known in advance (creeps, tension following the roll), mm per m. */
  slope(stationId: string, axis: Axis): number;
  /** Move a station by exactly so much, mm: no play, no hand error. Costs what a turn costs. */
  move(stationId: string, axis: Axis, mm: number): void;
};

export type CrewFactory = (layout: Layout, hidden: Hidden) => Crew;
