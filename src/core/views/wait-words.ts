import { formatLength, type LengthUnit, lengthFromM, lengthToM } from '../units.js';

/** "about 620 m, 5 min": how long until the next check, in the job's units; a part that is not known is left out. */
export const waitWords = (in_m: number | null, in_min: number | null, unit: LengthUnit, repeat_mm: number): string => {
  const parts = [
    ...(in_m === null ? [] : [`about ${aboutLength(Math.max(0, in_m), unit, repeat_mm)}`]),
    ...(in_min === null ? [] : [minutes(in_min)]),
  ];
  return parts.join(', ');
};

/** "About" is to tens of what is shown, so that it stands still for some seconds and says the same everywhere; the last hundred count down. */
export const aboutLength = (m: number, unit: LengthUnit, repeat_mm: number): string => {
  const shown = lengthFromM(m, unit, repeat_mm);
  const about = shown > 100 ? Math.round(shown / 10) * 10 : shown;
  return formatLength(lengthToM(about, unit, repeat_mm), unit, repeat_mm);
};

const minutes = (min: number): string =>
  min < 1 ? 'under 1 min' : min < 90 ? `${Math.round(min)} min` : `${(min / 60).toFixed(1)} h`;
