import { formatRegister, type RegisterUnit, registerFromMm } from '../units.js';

/** What is written after a register number; a 64th is already written as a fraction, of an inch. */
export const REGISTER_UNIT_NAME: Readonly<Record<RegisterUnit, string>> = {
  mm: 'mm',
  in: 'in',
  thou: 'thou',
  '64ths': 'in',
};

/** A register size without its sign, with its unit: "0.09 mm", "3.5 thou", "3/64 in". */
export const sizeWords = (mm: number, unit: RegisterUnit): string =>
  `${signedNumber(Math.abs(mm), unit).replace('+', '')} ${REGISTER_UNIT_NAME[unit]}`;

/** A register value with its sign and without its unit, for tables that name the unit: "+0.09", "0.00", "-0.05". */
export const signedNumber = (mm: number, unit: RegisterUnit): string => formatRegister(mm, unit, { sign: 'sign' });

/** Register for each metre of path, one decimal finer than a reading because it is multiplied by metres: "0.012 mm". */
export const rateWords = (mmPerMetre: number, unit: RegisterUnit): string => {
  const decimals = unit === 'mm' ? 3 : unit === 'in' ? 5 : 2;
  const value = Math.abs(registerFromMm(mmPerMetre, unit)).toFixed(decimals);
  return unit === '64ths' ? `${value}/64 in` : `${value} ${REGISTER_UNIT_NAME[unit]}`;
};

/** A whole number in groups of three: "179 134". */
export const wholeWords = (value: number): string => {
  const whole = Math.round(value);
  return `${whole < 0 ? '-' : ''}${String(Math.abs(whole)).replace(/\B(?=(\d{3})+$)/g, ' ')}`;
};
