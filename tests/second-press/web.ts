/**
 * The web as an elastic strip held by two zones, unwind to mid-press and mid-press to rewind. Strain above what it was at OK
 * makes the web run ahead of the cylinders, so a station prints late by strain times its web distance (case B of the
 * trade notes). A web running askew moves every station across in proportion to the same distance.
 */
import { between, hashUniform, normal, poisson, stream } from './prng.js';
import type { Scenario } from './scenario.js';
import { type StepLine, stepLine } from './step-line.js';
import { wanderLine } from './wander.js';

/** Diameter of a spent stock roll as a part of the full one. */
const CORE = 0.3;
/** Part of the unwind's strain that gets past the mid-press drive. */
const PAST_MID = 0.5;
/** Smallest strain deviation an operator sees at the tension dial, effective. */
const SEEN = 3e-6;

/** Strain is kept by cells of so many metres; splices and steps come at their edges. */
const CELL_M = 10;
const toCell = (m: number): number => CELL_M * Math.ceil(m / CELL_M);

export type Web = {
  readonly splices: readonly number[];
  readonly spliced: (afterM: number, untilM: number) => boolean;
  /** Along shift of a print at `atM`, mm. */
  along(atM: number, counterM: number): number;
  /** Its rate from the shrinking roll and the warming web, mm per m of counter. */
  alongRate(atM: number, counterM: number): number;
  across(atM: number, counterM: number): number;
  /** An operator's look; true where he changed something. */
  look(counterM: number): boolean;
};

const drawSplices = (s: Scenario, seed: number): readonly { fromM: number; lengthM: number }[] => {
  const rng = stream(seed, 'stock rolls');
  const rolls: { fromM: number; lengthM: number }[] = [];
  let lengthM = between(rng, s.stockRolls) * s.finishedRollM;
  let fromM = -lengthM * rng() * 0.5;
  while (fromM < s.rolls * s.finishedRollM) {
    rolls.push({ fromM, lengthM });
    fromM = toCell(fromM + lengthM);
    lengthM = between(rng, s.stockRolls) * s.finishedRollM;
  }
  return rolls;
};

/** Tension of a constant brake torque goes as 1/diameter: 0 on a full roll, 1 on a spent one. */
const taper = (used: number): number => {
  const d = Math.sqrt(1 - (1 - CORE * CORE) * Math.min(1, Math.max(0, used)));
  return (1 / d - 1) / (1 / CORE - 1);
};

export const makeWeb = (s: Scenario, midM: number, seed: number): Web => {
  const rng = stream(seed, 'web');
  const totalM = s.rolls * s.finishedRollM;
  const stock = drawSplices(s, seed);
  const splices = stock.map((r) => r.fromM).filter((m) => m > 0);
  const levels = stock.map(() => [normal(rng) * s.spliceStrain, normal(rng) * s.spliceStrain] as const);
  const taperStrain = s.taperStrain * (0.5 + rng());
  const warm = [normal(rng) * s.warmStrain, normal(rng) * s.warmStrain] as const;
  const steps: readonly [StepLine, StepLine] = [stepLine(), stepLine()];
  const stepsAt = Array.from({ length: poisson(rng, s.tensionSteps) }, () => toCell(rng() * totalM)).sort(
    (a, b) => a - b,
  );
  for (const m of stepsAt) for (const line of steps) line.add(m, normal(rng) * s.tensionStepStrain);
  const skewRng = stream(seed, 'skew');
  const skewSteps = stepLine();
  for (const m of splices) skewSteps.add(m, normal(skewRng) * s.skewSplice - skewSteps.at(m));
  const skewWander = wanderLine(skewRng, totalM, s.skewWander, s.wanderM, 0, s.finishedRollM);

  const rollAt = (c: number): number => {
    let i = stock.length - 1;
    while (i > 0 && (stock[i]?.fromM ?? 0) > c) i--;
    return i;
  };
  const taperAt = (i: number, c: number): number => {
    const roll = stock[i];
    return roll === undefined ? 0 : taperStrain * taper((c - roll.fromM) / roll.lengthM);
  };
  const taper0 = taperAt(0, 0);
  /** What belongs to the stock roll running, and what to the press; corrections of the first go with the roll. */
  const ofRoll = (zone: 0 | 1, i: number, c: number): number =>
    (levels[i]?.[zone] ?? 0) - (levels[0]?.[zone] ?? 0) + (taperAt(i, c) - taper0) * (zone === 0 ? 1 : PAST_MID);
  const ofPress = (zone: 0 | 1, c: number): number =>
    steps[zone].at(c) + (c > 0 ? warm[zone] * (1 - Math.exp(-c / s.warmM)) : 0);

  const active = s.spliceStrain > 0 || s.taperStrain > 0 || s.tensionSteps > 0 || s.warmStrain > 0;
  const looks: { fromM: number; roll: number; ofRoll: [number, number]; ofPress: [number, number] }[] = [];
  const workOut = (zone: 0 | 1, c: number): number => {
    const i = rollAt(c);
    let e = ofRoll(zone, i, c) + ofPress(zone, c);
    for (const l of looks) if (l.fromM <= c) e -= l.ofPress[zone] + (l.roll === i ? l.ofRoll[zone] : 0);
    return e * 1e-6;
  };
  const blank = (): Float64Array => new Float64Array(active ? Math.ceil(totalM / CELL_M) + 1 : 0).fill(Number.NaN);
  const kept = [blank(), blank()] as const;
  const strain = (zone: 0 | 1, c: number): number => {
    if (!active || c <= 0) return 0;
    const cells = kept[zone];
    const cell = Math.min(cells.length - 1, Math.floor(c / CELL_M));
    const was = cells[cell] ?? Number.NaN;
    if (!Number.isNaN(was)) return was;
    const fresh = workOut(zone, cell * CELL_M);
    cells[cell] = fresh;
    return fresh;
  };
  const shift = (atM: number, a: number, b: number): number =>
    -1000 * (a * Math.min(atM, midM) + b * Math.max(0, atM - midM));

  return {
    splices,
    spliced: (after, until) => splices.some((m) => m > after && m <= until),
    along: (atM, c) => (active ? shift(atM, strain(0, c), strain(1, c)) : 0),
    alongRate: (atM, c) => {
      if (!active) return 0;
      const i = rollAt(c);
      const next = 10;
      const rate = (taperAt(i, c + next) - taperAt(i, c)) / next;
      const warming = (zone: 0 | 1): number => (warm[zone] * Math.exp(-c / s.warmM)) / s.warmM;
      return shift(atM, (rate + warming(0)) * 1e-6, (rate * PAST_MID + warming(1)) * 1e-6);
    },
    across: (atM, c) => (c <= 0 ? 0 : atM * (skewSteps.at(c) + skewWander(c))),
    look: (c) => {
      const now = [strain(0, c), strain(1, c)] as const;
      if (Math.max(Math.abs(now[0]), Math.abs(now[1])) < SEEN) return false;
      const part = 0.5 + 0.4 * hashUniform(seed, 77, looks.length);
      const i = rollAt(c);
      const done = looks.filter((l) => l.fromM <= c);
      const left = (zone: 0 | 1, of: 'ofRoll' | 'ofPress'): number => {
        const whole = of === 'ofRoll' ? ofRoll(zone, i, c) : ofPress(zone, c);
        return done.reduce((e, l) => e - (of === 'ofRoll' && l.roll !== i ? 0 : l[of][zone]), whole) * part;
      };
      const fromM = CELL_M * Math.floor(c / CELL_M);
      for (const cells of kept) cells.fill(Number.NaN, fromM / CELL_M);
      looks.push({
        fromM,
        roll: i,
        ofRoll: [left(0, 'ofRoll'), left(1, 'ofRoll')],
        ofPress: [left(0, 'ofPress'), left(1, 'ofPress')],
      });
      return true;
    },
  };
};
