import { formatLength, formatRegister, type LengthUnit, type RegisterUnit, registerFromMm } from '../units.js';

/** What is written after a register number; a 64th is already written as a fraction, of an inch. */
export const registerUnitName = (unit: RegisterUnit): string => (unit === '64ths' ? 'in' : unit);

/** The unit for a heading: "mm", "inches", "64ths of an inch". */
export const registerUnitHeading = (unit: RegisterUnit): string =>
  ({ mm: 'mm', in: 'inches', thou: 'thou', '64ths': '64ths of an inch' })[unit];

/** A register size without its sign, with its unit: "0.09 mm", "3.5 thou", "3/64 in". */
export const sizeWords = (mm: number, unit: RegisterUnit): string =>
  `${signedNumber(Math.abs(mm), unit).replace('+', '')} ${registerUnitName(unit)}`;

/** A register value with its sign and without its unit, for tables that name the unit: "+0.09", "0.00", "-0.05". */
export const signedNumber = (mm: number, unit: RegisterUnit): string => formatRegister(mm, unit, { sign: 'sign' });

/** Register for each metre of path or each division of a knob, finer than a reading because it is multiplied: "0.012 mm". */
export const rateWords = (mmPerMetre: number, unit: RegisterUnit): string => {
  const decimals = unit === 'mm' ? 3 : unit === 'in' ? 5 : 2;
  const value = Math.abs(registerFromMm(mmPerMetre, unit)).toFixed(decimals);
  return unit === '64ths' ? `${value}/64 in` : `${value} ${registerUnitName(unit)}`;
};

/** A length along the web, whole: "17 550 m", "57 579 ft". */
export const lengthWords = (m: number, unit: LengthUnit, repeat_mm: number): string => formatLength(m, unit, repeat_mm);

/** A whole number in groups of three: "179 134". */
export const wholeWords = (value: number): string => {
  const whole = Math.round(value);
  return `${whole < 0 ? '-' : ''}${String(Math.abs(whole)).replace(/\B(?=(\d{3})+$)/g, ' ')}`;
};
