/** Slips and creeps of the cylinders, drawn before the run so that every crew meets the same. */
import { between, poisson, type Rng, sign, stream } from './prng.js';
import type { Moves, Scenario } from './scenario.js';

/** axis 0 along, 1 across; `station` counts from 0. */
export type Slip = { readonly station: number; readonly axis: 0 | 1; readonly atM: number; readonly mm: number };
export type Creep = {
  readonly station: number;
  readonly axis: 0 | 1;
  readonly fromM: number;
  readonly mmPerM: number;
  /** Stops for good when the knob is turned. */
  readonly locks: boolean;
  untilM: number;
};

type Drawn = { readonly slips: Slip[]; readonly creeps: Creep[] };

const pick = (rng: Rng, from: readonly number[]): number => from[Math.floor(rng() * from.length)] ?? 0;

const drawClass = (
  rng: Rng,
  moves: Moves,
  axis: 0 | 1,
  who: readonly number[],
  s: Scenario,
  splices: readonly number[],
): Drawn => {
  const totalM = s.rolls * s.finishedRollM;
  const slips: Slip[] = [];
  const creeps: Creep[] = [];
  for (let n = poisson(rng, moves.slips); n > 0; n--) {
    const station = pick(rng, who);
    const mm = sign(rng) * between(rng, moves.slipMm);
    const anywhere = rng() * totalM;
    const atStop = rng() < moves.slipAtSplice;
    slips.push({ station, axis, mm, atM: atStop ? pick(rng, [0, ...splices]) : anywhere });
  }
  for (let n = poisson(rng, moves.creeps); n > 0; n--) {
    const station = pick(rng, who);
    const mmPerM = (sign(rng) * between(rng, moves.creepMmPerRoll)) / s.finishedRollM;
    creeps.push({
      station,
      axis,
      mmPerM,
      fromM: rng() * totalM,
      locks: rng() < moves.creepLocks,
      untilM: Number.POSITIVE_INFINITY,
    });
  }
  return { slips, creeps };
};

/** All moves of a run, slips in order of counter. */
export const drawMoves = (
  s: Scenario,
  stationsN: number,
  reference: number,
  splices: readonly number[],
  seed: number,
): Drawn => {
  const prints = Array.from({ length: stationsN - 1 }, (_, k) => k).filter((k) => k !== reference);
  const classes: readonly (readonly [string, Moves, 0 | 1, readonly number[]])[] = [
    ['print along', s.printAlong, 0, prints],
    ['print across', s.printAcross, 1, prints],
    ['reference along', s.referenceAlong, 0, [reference]],
    ['reference across', s.referenceAcross, 1, [reference]],
    ['die along', s.dieAlong, 0, [stationsN - 1]],
    ['die across', s.dieAcross, 1, [stationsN - 1]],
  ];
  const all = classes.map(([use, m, axis, who]) => drawClass(stream(seed, `moves ${use}`), m, axis, who, s, splices));
  return {
    slips: all.flatMap((d) => d.slips).sort((a, b) => a.atM - b.atM),
    creeps: all.flatMap((d) => d.creeps),
  };
};
