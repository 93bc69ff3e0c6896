import type { PlanInput } from './plan-input.js';

/** A move of so much counted in turns: one, or two where teeth are parted for it as well. */
export const turnsFor = (input: PlanInput, mm: number): number =>
  input.axis === 'along' && Math.abs(mm) > input.tooth_mm / 2 ? 2 : 1;
