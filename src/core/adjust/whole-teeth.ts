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
          const teeth = Math.round(mm / input.tooth_mm);
          const sd = input.stations.find((station) => station.id === id)?.sd_mm ?? 0;
          return [id, teeth !== 0 && Math.abs(mm - teeth * input.tooth_mm) <= 2 * sd ? teeth * input.tooth_mm : mm];
        }),
      );
