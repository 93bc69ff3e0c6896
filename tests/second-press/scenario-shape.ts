/** Everything that can be switched or sized about a run. Lengths mm or m as named; strains are effective, 1e-6. */

/** Lowest and highest of an even draw. */
export type Range = readonly [number, number];

/** How often and how far the members of one class (print stations, reference, die) move on one axis. */
export type Moves = {
  /** Slips expected in the whole run, for the whole class together. */
  readonly slips: number;
  readonly slipMm: Range;
  /** Share of slips that happen at a splice or at the start rather than at a random metre. */
  readonly slipAtSplice: number;
  /** Creeps expected in the whole run, for the whole class together. */
  readonly creeps: number;
  readonly creepMmPerRoll: Range;
  /** Share of creeps that stop for good once their knob has been turned (and locked). */
  readonly creepLocks: number;
};

export type Scenario = {
  readonly name: string;
  readonly rolls: number;
  readonly finishedRollM: number;
  readonly speedMPerMin: number;
  readonly repeatMm: number;
  readonly pitchM: number;
  readonly referenceAt: 'first' | 'middle';
  readonly dieFixedAcross: boolean;
  readonly dieFixedAlong: boolean;
  readonly divisionMm: number;
  readonly printToleranceMm: number;
  readonly dieToleranceMm: number;
  /** How many finished rolls a stock roll lasts. */
  readonly stockRolls: Range;

  readonly printAlong: Moves;
  readonly printAcross: Moves;
  readonly referenceAlong: Moves;
  readonly referenceAcross: Moves;
  readonly dieAlong: Moves;
  readonly dieAcross: Moves;
  /** Slow wander: standing sd, mm, and the metres over which it forgets. */
  readonly wanderMm: number;
  readonly wanderAcrossMm: number;
  readonly wanderM: number;
  /** Unbounded wander: sd gathered over one finished roll, mm. */
  readonly walkMmPerRoll: number;
  /** Warming up after OK to run: sd a station, mm, and its length constant, m. */
  readonly warmMm: number;
  readonly warmM: number;
  /** Effective strain by which stock rolls differ, sd, in each zone, 1e-6 (0.12 mm on 1.2 m is 100). */
  readonly spliceStrain: number;
  /** Effective strain gained from full to empty stock roll (tension as 1/diameter), 1e-6, unwind zone; half after mid. */
  readonly taperStrain: number;
  /** Tension steps of the press itself expected in the run and their sd, 1e-6. */
  readonly tensionSteps: number;
  readonly tensionStepStrain: number;
  /** Strain while the web warms after the start, 1e-6. */
  readonly warmStrain: number;
  /** Web running askew: sd of the new angle at a splice and of its slow wander, mm across per m along. */
  readonly skewSplice: number;
  readonly skewWander: number;

  /** Label-to-label sd of a station, even draw, mm. */
  readonly labelMm: Range;
  /** Part of the label sd that is the reference's own. */
  readonly referenceShare: number;
  /** Sample-to-sample sd as a part of the label sd. */
  readonly sampleShare: number;
  /** Amplitude of the sine over the labels, even draw, mm. */
  readonly eccentricMm: Range;
  /** Sd of one loupe reading, drawn once a run, mm. */
  readonly loupeMm: Range;
  readonly graduationMm: number;
  /** Chance that a reading is keyed with the wrong sign or misread. */
  readonly misread: number;
  readonly believedFactor: number;
  /** Standing offsets at OK, even within this each way, mm. */
  readonly standingMm: number;

  readonly playMm: Range;
  /** Error of a division: normal sd as a part, and an even part each way (0.5: nobody has measured it). */
  readonly gainSd: number;
  readonly gainEven: number;
  readonly oneTooMany: number;
  readonly wrongWay: number;
  readonly partial: boolean;
  readonly followUp: boolean;
};
