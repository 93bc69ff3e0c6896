import type { PlanInput, PlanStation } from '../../../src/core/adjust/plan-input.js';
import type { Knob } from '../../../src/core/press.js';

export const knobOf = (over: Partial<Knob> = {}): Knob => ({
  division_mm: 0.02,
  travel_mm: 3,
  sense: 1,
  sense_given: true,
  word: 'divisions',
  while_running: true,
  hand_plus: 'clockwise',
  ...over,
});

export const stationOf = (id: string, level_mm: number | null, over: Partial<PlanStation> = {}): PlanStation => ({
  id,
  name: id,
  kind: 'print',
  path_m: Number.isNaN(Number(id)) ? 8 : (Number(id) - 1) * 1.2,
  fixed: false,
  measured: true,
  level_mm,
  sd_mm: 0.015,
  tolerance_mm: 0.15,
  knob: knobOf(),
  used_mm: 0,
  gain: { plus: 1, minus: 1 },
  backlash_mm: null,
  proved: true,
  along_mm: null,
  ...over,
});

/** A press of print stations 1 (the reference) to n and a die, levels as given; an invented press. */
export const inputOf = (levels: readonly (number | null)[], over: Partial<PlanInput> = {}): PlanInput => ({
  axis: 'along',
  reference: '1',
  stations: [
    stationOf('1', 0, { measured: false, sd_mm: 0 }),
    ...levels.map((level, i) => stationOf(String(i + 2), level)),
  ],
  pairs: [],
  tooth_mm: 3.175,
  repeat_mm: 304.8,
  helix_deg: 0,
  resolution_mm: 0.05,
  unit: 'mm',
  ...over,
});
