import { AXES } from '../core/axis.js';
import { repeatMm } from '../core/job.js';
import { printedAt } from '../core/web.js';
import { COST } from './exercise.js';
import { flawsAt, registerAt } from './standing.js';
import type { World } from './world.js';

/** Why a metre of web is waste; the first that applies is the one it is counted under. */
export type WasteKind = 'make-ready' | 'print off' | 'out of register' | 'dirty plate' | 'after a start' | 'sample';

export type Waste = {
  readonly metres: number;
  /** Labels on them: metres ÷ repeat × around × across, rounded up. */
  readonly labels: number;
  readonly by: Readonly<Record<WasteKind, number>>;
};

const ORDER: readonly WasteKind[] = [
  'make-ready',
  'print off',
  'out of register',
  'dirty plate',
  'after a start',
  'sample',
];

/**
 * What of the web that passed the sample place is waste, metre by metre, each metre counted once and judged at its end: all of make-ready,
 * what was printed with the print off, truly out of tolerance (no reading scatter), by a dirty plate, the first metres after a start, and
 * what was cut out as samples. Example: a step out at 1000 m found and turned back at 1500: the metres between, and the samples.
 */
export const wasteOf = (world: World): Waste => {
  const by: Record<WasteKind, number> = {
    'make-ready': 0,
    'print off': 0,
    'out of register': 0,
    'dirty plate': 0,
    'after a start': 0,
    sample: 0,
  };
  const judge = metreJudge(world);
  for (let m = 1; m <= Math.floor(world.web_m); m += 1) {
    const kind = judge(m);
    if (kind !== null) by[kind] += 1;
  }
  const metres = ORDER.reduce((sum, kind) => sum + by[kind], 0);
  return { metres, labels: labelsIn(world, metres), by };
};

/** Why the metre that ends at `web_m` is waste; null = saleable. */
export const metreJudge = (world: World): ((web_m: number) => WasteKind | null) => {
  const { done, ok_m } = world;
  const starts = done.filter((d) => d.kind === 'start').map((d) => d.web_m);
  const pulls = done.filter((d) => d.kind === 'pull').map((d) => d.web_m);
  return (web_m) => {
    if (ok_m === null || web_m <= ok_m) return 'make-ready';
    if (unprinted(world, web_m)) return 'print off';
    if (isOut(world, web_m)) return 'out of register';
    if (isDirty(world, web_m)) return 'dirty plate';
    if (starts.some((s) => web_m > s && web_m <= s + COST.restart_m)) return 'after a start';
    return pulls.some((p) => web_m > p - COST.sample_m && web_m <= p) ? 'sample' : null;
  };
};

export const labelsIn = (world: World, metres: number): number => {
  const repeat_m = repeatMm(world.press, world.job) / 1000;
  return Math.ceil((metres / repeat_m) * world.job.labels_around * world.job.labels_across - 1e-9);
};

/** Whether the web at the sample place is truly outside a tolerance. */
export const isOut = (world: World, web_m: number): boolean =>
  world.stations.some(
    (station) =>
      station.id !== world.job.reference &&
      station.read === 'measure' &&
      AXES.some(
        (axis) =>
          Math.abs(registerAt(world, station, axis, web_m)) >
          (world.job.tolerance_mm[station.id]?.[axis] ?? Infinity) + 1e-9,
      ),
  );

const isDirty = (world: World, web_m: number): boolean =>
  world.stations.some((s) => flawsAt(world, s.id, printedAt(web_m, world.press.sample_m, s.at_m)) >= 1);

const unprinted = (world: World, web_m: number): boolean => {
  const off = world.done.filter((d) => d.kind === 'print off' || d.kind === 'print on');
  if (off.length === 0 && !world.exercise.standing) return false;
  return world.stations.some((s) => {
    const printed = printedAt(web_m, world.press.sample_m, s.at_m);
    const last = off.filter((d) => d.web_m <= printed).at(-1);
    return last === undefined ? world.exercise.standing : last.kind === 'print off';
  });
};
