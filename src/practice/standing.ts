import type { Axis } from '../core/axis.js';
import type { Station } from '../core/run/stations.js';
import { printedAt } from '../core/web.js';
import type { PracticeCause } from './cause.js';
import type { World } from './world.js';

/**
 * Where a station truly prints when the counter stands at `printed_m`, mm against true (+ ahead / + operator side): where it stood at the
 * start, what befell it, what was turned since. Sums and products only, so it is the same number on every machine.
 * Example: a creep of 0.07 mm/km from 1200 m: +0.056 at 2000 m.
 */
export const standing = (world: World, station: Station, axis: Axis, printed_m: number): number => {
  let mm = world.exercise.out_mm[station.id]?.[axis] ?? 0;
  for (const cause of world.exercise.causes) mm += movedBy(world, cause, station, axis, printed_m);
  for (const done of world.done)
    if (done.kind === 'turn' && done.station === station.id && done.axis === axis && done.web_m <= printed_m)
      mm += done.got_mm;
  return mm;
};

/** What the piece of web at the sample place truly reads for a station against the reference, mm, when the counter stands at `web_m`. */
export const registerAt = (world: World, station: Station, axis: Axis, web_m: number): number => {
  const reference = world.stations.find((s) => s.id === world.job.reference);
  const own = standing(world, station, axis, printedAt(web_m, world.press.sample_m, station.at_m));
  return reference === undefined
    ? own
    : own - standing(world, reference, axis, printedAt(web_m, world.press.sample_m, reference.at_m));
};

/** What one cause alone does to one station at a counter value, mm. */
export const movedBy = (world: World, cause: PracticeCause, station: Station, axis: Axis, at_m: number): number => {
  switch (cause.kind) {
    case 'creep': {
      if (cause.station !== station.id || cause.axis !== axis || at_m <= cause.from_m) return 0;
      const until = cause.held ? Math.min(at_m, lockedAt(world, cause)) : at_m;
      return (cause.mm_per_km * (until - cause.from_m)) / 1000;
    }
    case 'slip':
      return cause.station === station.id && cause.axis === axis && at_m >= cause.at_m ? cause.mm : 0;
    case 'tooth':
      return cause.station === station.id && axis === 'along' && at_m >= cause.at_m
        ? cause.teeth * world.press.tooth_mm
        : 0;
    case 'tension':
      return axis === 'along' && at_m >= cause.at_m && at_m < tensionSetAt(world, cause.at_m)
        ? cause.mm_per_m * station.at_m
        : 0;
    case 'unwind':
      return axis === 'along' && at_m < tensionSetAt(world, 0)
        ? cause.mm_per_m * station.at_m * rollUsed(world, at_m)
        : 0;
    case 'warm-up': {
      const left = 1 - (at_m - cause.at_m) / cause.over_m;
      return axis === 'along' && at_m >= cause.at_m && left > 0 ? cause.mm_per_m * station.at_m * left : 0;
    }
    default:
      return 0;
  }
};

/** Flaws a label that a station's plate prints at a counter value; one a label is dirty. */
export const flawsAt = (world: World, station: string, at_m: number): number => {
  let flaws = 0;
  for (const cause of world.exercise.causes) {
    if (cause.kind !== 'dirt' || cause.station !== station || at_m <= cause.from_m) continue;
    const washed = world.done.some(
      (d) => d.kind === 'wash' && d.station === station && d.web_m >= cause.from_m && d.web_m <= at_m,
    );
    if (!washed) flaws += (cause.flaws_per_km * (at_m - cause.from_m)) / 1000;
  }
  return flaws;
};

/** Where its lock was done up: the first time the creeping knob was turned. */
const lockedAt = (world: World, cause: Extract<PracticeCause, { kind: 'creep' }>): number =>
  world.done.find(
    (d) => d.kind === 'turn' && d.station === cause.station && d.axis === cause.axis && d.web_m >= cause.from_m,
  )?.web_m ?? Infinity;

const tensionSetAt = (world: World, from_m: number): number =>
  world.done.find((d) => d.kind === 'tension' && d.web_m >= from_m)?.web_m ?? Infinity;

/** How far the stock roll is used, squared (0 full, 1 at the core): tension under a brake rises slowly, then fast. */
const rollUsed = (world: World, at_m: number): number => {
  const ends = [0, ...world.exercise.splices_m, world.exercise.to_m];
  const next = ends.find((m) => m > at_m) ?? world.exercise.to_m;
  const from = [...ends].reverse().find((m) => m <= at_m) ?? 0;
  const share = next > from ? (at_m - from) / (next - from) : 0;
  return share * share;
};
