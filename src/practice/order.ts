import { capital } from '../core/capital.js';
import { labelOf } from '../core/run/stations.js';
import { stationOf, type World } from './world.js';

/**
 * How the order of bringing in was. The usual one: the reference is set first to what lies farthest from it (commonly the die), since its
 * move shifts every other reading; then the next farthest, and so on inwards. Common practice, no source; why it is sound is geometry.
 */
export const orderWords = (world: World): readonly string[] => {
  const turns = world.done.flatMap((d) => (d.kind === 'turn' && d.web_m <= (world.ok_m ?? Infinity) ? [d] : []));
  if (turns.length === 0) return ['Nothing was turned in make-ready.'];
  const words: string[] = [];
  for (const axis of ['along', 'across'] as const) {
    const on = turns.filter((t) => t.axis === axis);
    const reference = on.findIndex((t) => t.station === world.job.reference);
    if (reference > 0) {
      const before = [...new Set(on.slice(0, reference).map((t) => nameOf(world, t.station)))];
      words.push(
        `${capital(axis)}: ${before.join(', ')} ${before.length === 1 ? 'was' : 'were'} turned before the reference. Its move put ${before.length === 1 ? 'it' : 'them'} out again; the reference comes first.`,
      );
    }
    const again = repeated(on.map((t) => t.station)).map((id) => nameOf(world, id));
    if (again.length > 0)
      words.push(`${capital(axis)}: ${again.join(', ')} ${again.length === 1 ? 'was' : 'were'} turned more than once.`);
  }
  const teethAfterKnob = turns.some(
    (t, i) =>
      t.teeth !== 0 && turns.slice(0, i).some((u) => u.station === t.station && u.axis === t.axis && u.teeth === 0),
  );
  if (teethAfterKnob) words.push('A knob was turned before the teeth of the same station: coarse comes before fine.');
  return words.length === 0
    ? ['The order was sound: each thing once, and nothing put out again by a later move.']
    : [
        ...words,
        'The usual order: the reference to the farthest thing first, then the next farthest, and so on inwards.',
      ];
};

/** Stations turned again after another was turned between. */
const repeated = (ids: readonly string[]): readonly string[] => [
  ...new Set(ids.filter((id, i) => ids.slice(0, i).includes(id) && ids[i - 1] !== id)),
];

const nameOf = (world: World, id: string): string => {
  const station = stationOf(world, id);
  return station === null ? id : labelOf(station);
};
