import { beganAt } from './cause.js';
import type { World } from './world.js';

/** What the student said moved, each held against the truth of that moment. */
export const namedWords = (world: World): readonly string[] =>
  world.done.flatMap((d) =>
    d.kind === 'named'
      ? [`At ${d.web_m} m you said "${d.what}": ${isTrue(world, d.what, d.web_m) ? 'right' : 'not so'}.`]
      : [],
  );

/** Whether what was named had happened by then. */
export const isTrue = (world: World, what: string, web_m: number): boolean => {
  const words = what.split(/\s+/);
  const so = world.exercise.causes.filter((c) => (beganAt(c) ?? 0) <= web_m);
  const across = words.includes('across');
  const out = world.exercise.out_mm[(words[0] ?? '').toUpperCase()];
  if (
    out !== undefined &&
    (across ? out.across !== 0 : words.length === 1 ? out.along !== 0 || out.across !== 0 : out.along !== 0)
  )
    return true;
  switch (words[0]) {
    case 'reference':
      return so.some(
        (c) => 'station' in c && c.station === world.job.reference && c.kind !== 'dirt' && c.kind !== 'misread',
      );
    case 'web':
    case 'tension':
      return so.some((c) => c.kind === 'tension' || c.kind === 'unwind' || c.kind === 'warm-up');
    case 'plate':
      return so.some((c) => c.kind === 'dirt' && c.station.toLowerCase() === words[1]);
    case 'misread':
      return so.some((c) => c.kind === 'misread');
    case 'nothing':
      return so.every((c) => c.kind === 'misread');
    default:
      return so.some(
        (c) =>
          (c.kind === 'creep' || c.kind === 'slip' || c.kind === 'tooth') &&
          c.station.toLowerCase() === words[0] &&
          (words.length === 1 || (c.kind === 'tooth' ? !across : (c.axis === 'across') === across)),
      );
  }
};
