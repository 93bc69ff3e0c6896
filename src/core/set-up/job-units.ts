import type { LengthUnit, RegisterUnit } from '../units.js';
import type { Answers } from './question.js';
import type { LengthAsked } from './understand-length.js';
import { understandWhole } from './understand-whole.js';

/** The answer for what is not so. */
export const NO = 'no';

export const registerUnitOf = (answers: Answers): RegisterUnit => {
  const unit = answers['job.register'];
  return unit === 'in' || unit === 'thou' || unit === '64ths' ? unit : 'mm';
};

export const lengthUnitOf = (answers: Answers): LengthUnit => {
  const unit = answers['job.length'];
  return unit === 'ft' || unit === 'repeats' ? unit : 'm';
};

/** What a roll, or the web between two checks, may measure. */
export const rollAsked = (answers: Answers, tooth_mm: number): LengthAsked => {
  const teeth = understandWhole(answers['job.teeth'] ?? '', 4, 2000, 'teeth');
  return {
    unit: lengthUnitOf(answers),
    repeat_mm: (teeth.ok ? teeth.value : 96) * tooth_mm,
    low_m: 10,
    high_m: 1_000_000,
  };
};
