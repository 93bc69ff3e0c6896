/** The named scenarios: how much of what happens in each. */
import type { Moves, Scenario } from './scenario-shape.js';

export type { Moves, Range, Scenario } from './scenario-shape.js';

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
