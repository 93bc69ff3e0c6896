import { repeatMm } from '../core/job.js';
import { labelOf } from '../core/run/stations.js';
import type { World } from './world.js';

/** What is written on this press and in its job: what a student may look up at any time. */
export const pressWords = (world: World): readonly string[] => {
  const { press, job } = world;
  const turned = world.stations.flatMap((s) =>
    (['along', 'across'] as const).flatMap((axis) =>
      s.knobs[axis].sense === -1 && !s.fixed.includes(axis)
        ? [`The ${axis} knob of ${labelOf(s)} is marked the other way round: turn it toward the opposite mark.`]
        : [],
    ),
  );
  return [
    `${press.name}: one tooth ${press.tooth_mm.toFixed(3)} mm; repeat ${job.repeat_teeth} teeth, ${repeatMm(press, job).toFixed(1)} mm.`,
    ...world.stations.map((s) => {
      const along = s.knobs.along.division_mm;
      const across = s.fixed.includes('across')
        ? 'does not move side to side'
        : `across ${s.knobs.across.division_mm} mm`;
      const tolerance = job.tolerance_mm[s.id];
      return `${labelOf(s)}${s.id === job.reference ? ' (reference)' : ''} at ${s.at_m} m: one division along ${along} mm, ${across}${s.id === job.reference ? '' : `; tolerance ${tolerance?.along} along, ${tolerance?.across} across`}.`;
    }),
    `Samples are taken at ${press.sample_m} m: what you turn at a station shows after the web has run from there.`,
    ...turned,
  ];
};
