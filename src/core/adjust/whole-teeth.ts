import type { Wanted } from './options.js';
import type { PlanInput } from './plan-input.js';

/**
 * What is wanted along the web and is whole teeth, as far as the readings can tell (within two sd of where the station stands), is turned by
 * teeth alone: a jumped tooth by a tooth.
 */
export const wholeTeeth = (input: PlanInput, wanted: Wanted): Wanted =>
  input.axis !== 'along'
    ? wanted
    : Object.fromEntries(
        Object.entries(wanted).map(([id, mm]) => {
          const sd = input.stations.find((station) => station.id === id)?.sd_mm ?? 0;
          const teeth = teethNear(mm, input.tooth_mm, 2 * sd);
          return [id, teeth === 0 ? mm : teeth * input.tooth_mm];
        }),
      );

/** How many whole gear teeth a length is, to within so much, either sign; 0 = none. */
export const teethNear = (mm: number, tooth_mm: number, within_mm: number): number => {
  const teeth = Math.round(mm / tooth_mm);
  return Math.abs(mm - teeth * tooth_mm) <= within_mm ? teeth : 0;
};
