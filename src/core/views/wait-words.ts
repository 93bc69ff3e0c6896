import type { LengthUnit } from '../units.js';
import { formatLength } from '../units.js';

/** "about 620 m, 5 min": how long until the next check, in the job's units; a part that is not known is left out. */
export const waitWords = (in_m: number | null, in_min: number | null, unit: LengthUnit, repeat_mm: number): string => {
  const parts = [
    ...(in_m === null ? [] : [`about ${formatLength(Math.max(0, in_m), unit, repeat_mm)}`]),
    ...(in_min === null ? [] : [minutes(in_min)]),
  ];
  return parts.join(', ');
};

const minutes = (min: number): string =>
  min < 1 ? 'less than a minute' : min < 90 ? `${Math.round(min)} min` : `${(min / 60).toFixed(1)} h`;
