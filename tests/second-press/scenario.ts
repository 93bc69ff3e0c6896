/** Everything that can be switched or sized about a run. Lengths mm or m as named; strains are effective, 1e-6. */

export type ScenarioName = 'nothing' | 'quiet' | 'slips' | 'creeps' | 'splices' | 'reference' | 'across' | 'shop';
export const SCENARIO_NAMES: readonly ScenarioName[] = [
  'nothing',
  'quiet',
  'slips',
  'creeps',
  'splices',
  'reference',
  'across',
  'shop',
];

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

const still: Moves = {
  slips: 0,
  slipMm: [0.1, 0.4],
  slipAtSplice: 0.3,
  creeps: 0,
  creepMmPerRoll: [0.02, 0.08],
  creepLocks: 0.5,
};

const moves = (over: Partial<Moves>): Moves => ({ ...still, ...over });

const nothing: Scenario = {
  name: 'nothing',
  rolls: 16,
  finishedRollM: 2000,
  speedMPerMin: 120,
  repeatMm: 304.8,
  pitchM: 1.2,
  referenceAt: 'first',
  dieFixedAcross: true,
  dieFixedAlong: false,
  divisionMm: 0.02,
  printToleranceMm: 0.15,
  dieToleranceMm: 0.4,
  stockRolls: [2, 4],
  printAlong: still,
  printAcross: still,
  referenceAlong: still,
  referenceAcross: still,
  dieAlong: still,
  dieAcross: still,
  wanderMm: 0,
  wanderAcrossMm: 0,
  wanderM: 2500,
  walkMmPerRoll: 0,
  warmMm: 0,
  warmM: 500,
  spliceStrain: 0,
  taperStrain: 0,
  tensionSteps: 0,
  tensionStepStrain: 0,
  warmStrain: 0,
  skewSplice: 0,
  skewWander: 0,
  labelMm: [0.01, 0.04],
  referenceShare: 0.5,
  sampleShare: 0.4,
  eccentricMm: [0, 0.015],
  loupeMm: [0.005, 0.02],
  graduationMm: 0.01,
  misread: 0.01,
  believedFactor: 1,
  standingMm: 0,
  playMm: [0, 0.03],
  gainSd: 0.15,
  gainEven: 0,
  oneTooMany: 0.1,
  wrongWay: 0.01,
  partial: false,
  followUp: false,
};

const wandering = { wanderMm: 0.015, wanderAcrossMm: 0.01 };

const named: Readonly<Record<ScenarioName, Partial<Scenario>>> = {
  nothing: {},
  quiet: { wanderMm: 0.018, wanderAcrossMm: 0.012, printAlong: moves({ slips: 0.4, slipMm: [0.05, 0.11] }) },
  slips: { ...wandering, printAlong: moves({ slips: 5 }), dieAlong: moves({ slips: 0.6 }) },
  creeps: {
    ...wandering,
    printAlong: moves({ creeps: 5, creepLocks: 0.3 }),
    dieAlong: moves({ creeps: 1, creepLocks: 0.3 }),
  },
  splices: {
    ...wandering,
    spliceStrain: 15,
    taperStrain: 8,
    warmStrain: 5,
    warmMm: 0.01,
    tensionSteps: 0.5,
    tensionStepStrain: 15,
  },
  reference: {
    ...wandering,
    referenceAlong: moves({ slips: 2.2, creeps: 0.5 }),
    referenceAcross: moves({ slips: 0.3 }),
  },
  across: {
    ...wandering,
    printAcross: moves({ slips: 3.5, creeps: 0.4 }),
    referenceAcross: moves({ slips: 0.4 }),
    skewSplice: 0.012,
    skewWander: 0.005,
  },
  shop: {
    ...wandering,
    warmMm: 0.01,
    printAlong: moves({ slips: 1.6, creeps: 0.5, creepLocks: 0.4 }),
    printAcross: moves({ slips: 0.7, creeps: 0.3, creepLocks: 0.4 }),
    referenceAlong: moves({ slips: 0.3, creeps: 0.15 }),
    referenceAcross: moves({ slips: 0.1 }),
    dieAlong: moves({ slips: 0.3, creeps: 0.3 }),
    spliceStrain: 10,
    taperStrain: 4,
    tensionSteps: 0.3,
    tensionStepStrain: 10,
    warmStrain: 3,
    skewSplice: 0.004,
    skewWander: 0.002,
  },
};

/** A scenario by name, with whatever else is wanted laid over it. */
export const scenario = (name: ScenarioName, over: Partial<Scenario> = {}): Scenario => ({
  ...nothing,
  ...named[name],
  name,
  ...over,
});
