import type { PerAxis } from '../core/axis.js';
import { seededNumbers } from '../core/spc/seeded-numbers.js';
import { printedAt } from '../core/web.js';
import { LABELS_LOOKED, SCATTER } from './exercise.js';
import { flawsAt, registerAt } from './standing.js';
import type { World } from './world.js';

/** What a label of a sample shows of one station under the loupe; the reference's own marks are 0. */
export type Mark = {
  readonly station: string;
  readonly mm: PerAxis<number>;
  /** Print flaws counted on the labels looked at; null for the die. */
  readonly flaws: number | null;
};

/** One label under the loupe. `label` 1 is the one looked at first, 2 another one of the same sample. */
export type Sample = {
  readonly check: number;
  readonly label: number;
  readonly web_m: number;
  readonly marks: readonly Mark[];
};

/**
 * The marks on a label of the sample pulled as check `check` at `web_m`: true register, the units' tremble, reading scatter, and a bad mark where
 * there is one. Chance hangs on seed, check and label only: whoever pulls the same sample sees the same marks.
 */
export const sampleOf = (world: World, check: number, label: number, web_m: number): Sample => {
  const random = seededNumbers(world.exercise.seed * 1009 + check * 31 + label);
  const reference = world.job.reference;
  const shared = { along: tremble(random.uniform), across: tremble(random.uniform) };
  const marks = world.stations.map((station): Mark => {
    const one = (axis: 'along' | 'across'): number => {
      const noise = tremble(random.uniform) - shared[axis] + SCATTER.reading_mm * bell(random.uniform);
      if (station.id === reference) return 0;
      const mm = registerAt(world, station, axis, web_m) + noise + badMark(world, station.id, axis, check, label);
      return rounded(mm);
    };
    const mm = { along: one('along'), across: one('across') };
    const rate = flawsAt(world, station.id, printedAt(web_m, world.press.sample_m, station.at_m));
    const flaws = Math.floor(rate * LABELS_LOOKED + random.uniform());
    return { station: station.id, mm, flaws: station.kind === 'print' ? Math.min(flaws, 40) : null };
  });
  return { check, label, web_m, marks };
};

/** Plate grade by flaws on the labels looked at; common practice, no source. */
export const gradeOf = (flaws: number): 'clean' | 'building' | 'dirty' =>
  flaws >= LABELS_LOOKED ? 'dirty' : flaws >= 3 ? 'building' : 'clean';

const badMark = (world: World, station: string, axis: 'along' | 'across', check: number, label: number): number => {
  if (label !== 1) return 0;
  return world.exercise.causes.reduce((mm, cause) => {
    if (cause.kind !== 'misread' || cause.station !== station || cause.axis !== axis) return mm;
    const first = world.done.find((d) => d.kind === 'pull' && d.web_m >= cause.at_m);
    return first !== undefined && first.kind === 'pull' && first.check === check ? mm + cause.mm : mm;
  }, 0);
};

const tremble = (uniform: () => number): number => SCATTER.tremble_mm * bell(uniform);

/** Near enough a normal value from twelve uniform ones: sums only, so the same on every machine. */
const bell = (uniform: () => number): number => {
  let sum = -6;
  for (let i = 0; i < 12; i += 1) sum += uniform();
  return sum;
};

const rounded = (mm: number): number => Math.round(mm / SCATTER.step_mm) / Math.round(1 / SCATTER.step_mm) + 0;
