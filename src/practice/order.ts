import { AXES, type Axis } from '../core/axis.js';
import { capital } from '../core/capital.js';
import { BRING_IN } from '../core/job.js';
import { labelOf, type Station } from '../core/run/stations.js';
import { listWords } from '../core/views/event-words.js';
import { registerAt } from './standing.js';
import { stationOf, type World } from './world.js';

type Turn = Extract<World['done'][number], { kind: 'turn' }> & { readonly samples: number };

/**
 * How make-ready was gone about, held against the way of the board's own plan: all that is off is turned after the same sample, as every
 * station is read against the reference; teeth at one stop, then knobs; the reference only where something that cannot be moved is off.
 * Common practice, no source; why it is sound is geometry.
 */
export const orderWords = (world: World): readonly string[] => {
  const turns = turnsOf(world);
  if (turns.length === 0) return ['Nothing was turned in make-ready.'];
  const words = [
    ...AXES.flatMap((axis) => [...referenceWords(world, turns, axis), ...againWords(world, turns, axis)]),
    ...lateWords(world, turns),
    ...stopWords(turns),
    ...(teethAfterKnob(turns)
      ? ['A knob was turned before the teeth of the same station: coarse comes before fine.']
      : []),
  ];
  return words.length === 0
    ? ['The order was sound: all that was off after one sample, each thing once, and nothing put out again.']
    : [
        ...words,
        'The way of the program: read one sample, then turn all that is off, teeth at one stop and then knobs, the farthest from the reference first; leave what is in to a third of its tolerance. The reference stays, unless something that cannot be moved is off: then it and all others go to that, after the same sample.',
      ];
};

/** Turns before OK to run, each with the samples pulled before it. */
const turnsOf = (world: World): readonly Turn[] => {
  let samples = 0;
  return world.done.flatMap((d) => {
    if (d.kind === 'pull') samples += 1;
    return d.kind === 'turn' && d.web_m <= (world.ok_m ?? Infinity) ? [{ ...d, samples }] : [];
  });
};

const referenceWords = (world: World, turns: readonly Turn[], axis: Axis): readonly string[] => {
  const on = turns.filter((t) => t.axis === axis);
  const first = on.find((t) => t.station === world.job.reference);
  if (first === undefined) return [];
  const called = world.stations.some((s) => s.fixed.includes(axis) && offAtFirst(world, s, axis, BRING_IN));
  if (!called)
    return [
      `${capital(axis)}: the reference was turned, and nothing that cannot be moved called for it. All others are read against it, so its move put every one of them out.`,
    ];
  const before = names(
    world,
    on.filter((t) => t.samples < first.samples).map((t) => t.station),
  );
  return before.length === 0
    ? []
    : [
        `${capital(axis)}: ${listWords(before)} ${before.length === 1 ? 'was' : 'were'} turned a sample before the reference. Its move put ${before.length === 1 ? 'it' : 'them'} out again.`,
      ];
};

const againWords = (world: World, turns: readonly Turn[], axis: Axis): readonly string[] => {
  const ids = turns.filter((t) => t.axis === axis).map((t) => t.station);
  const again = names(
    world,
    ids.filter((id, i) => ids.slice(0, i).includes(id) && ids[i - 1] !== id),
  );
  return again.length === 0
    ? []
    : [`${capital(axis)}: ${listWords(again)} ${again.length === 1 ? 'was' : 'were'} turned more than once.`];
};

/** Off on the first sample, and first turned after a later one. */
const lateWords = (world: World, turns: readonly Turn[]): readonly string[] => {
  const first = turns[0]?.samples ?? 0;
  const late = AXES.flatMap((axis) =>
    world.stations.flatMap((s) => {
      const turn = turns.find((t) => t.station === s.id && t.axis === axis);
      const off = s.id !== world.job.reference && offAtFirst(world, s, axis, 1);
      return turn !== undefined && turn.samples > first && off ? [`${labelOf(s)} ${axis}`] : [];
    }),
  );
  return late.length === 0
    ? []
    : [
        `${listWords(late)} ${late.length === 1 ? 'was' : 'were'} off from the first sample and turned only after a later one: each sample more is waste.`,
      ];
};

const stopWords = (turns: readonly Turn[]): readonly string[] => {
  const stops = new Set(turns.filter((t) => t.teeth !== 0).map((t) => t.samples)).size;
  return stops < 2 ? [] : [`Teeth were moved at ${stops} stops: what needs one can all be moved at the same.`];
};

const teethAfterKnob = (turns: readonly Turn[]): boolean =>
  turns.some(
    (t, i) =>
      t.teeth !== 0 && turns.slice(0, i).some((u) => u.station === t.station && u.axis === t.axis && u.teeth === 0),
  );

/** Off by more than `part` of its tolerance as the press was given. */
const offAtFirst = (world: World, station: Station, axis: Axis, part: number): boolean =>
  Math.abs(registerAt({ ...world, done: [] }, station, axis, 0)) >
  part * (world.job.tolerance_mm[station.id]?.[axis] ?? Infinity);

const names = (world: World, ids: readonly string[]): readonly string[] =>
  [...new Set(ids)].map((id) => {
    const station = stationOf(world, id);
    return station === null ? id : labelOf(station);
  });
