import type { PlanInput } from '../core/adjust/plan-input.js';
import type { Axis, PerAxis } from '../core/axis.js';
import { repeatMm } from '../core/job.js';
import { labelOf } from '../core/run/stations.js';
import { usedOf } from './knob.js';
import type { World } from './world.js';

/** The planner's question for bringing everything in, from levels as read or as they truly are; null = not read. */
export const planInputs = (
  world: World,
  level: (station: string, axis: Axis) => number | null,
  /** How well the levels are known, 1 sigma, mm; not given = as well as one reading. */
  sd_mm?: number,
): PerAxis<PlanInput> => ({
  along: inputOf(world, 'along', level, sd_mm),
  across: inputOf(world, 'across', level, sd_mm),
});

const inputOf = (
  world: World,
  axis: Axis,
  level: (station: string, axis: Axis) => number | null,
  sd_mm: number | undefined,
): PlanInput => {
  const reference_m = world.stations.find((s) => s.id === world.job.reference)?.at_m ?? 0;
  return {
    axis,
    reference: world.job.reference,
    stations: world.stations.map((station) => {
      const isReference = station.id === world.job.reference;
      return {
        id: station.id,
        name: labelOf(station),
        kind: station.kind,
        path_m: station.at_m - reference_m,
        fixed: station.fixed.includes(axis),
        measured: station.read === 'measure' && !isReference,
        level_mm: isReference ? 0 : level(station.id, axis),
        sd_mm: isReference ? 0 : (sd_mm ?? world.job.reading.spread_mm[axis] ?? 0),
        tolerance_mm: world.job.tolerance_mm[station.id]?.[axis] ?? Infinity,
        knob: station.knobs[axis],
        used_mm: usedOf(world, station.id, axis),
        gain: { plus: 1, minus: 1 },
        backlash_mm: null,
        proved: true,
        along_mm: null,
      };
    }),
    pairs: [],
    tooth_mm: world.press.tooth_mm,
    repeat_mm: repeatMm(world.press, world.job),
    helix_deg: world.press.helix_deg,
    resolution_mm: world.job.reading.resolution_mm,
    unit: world.job.units.register,
  };
};
