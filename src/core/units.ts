import type { Axis } from './axis.js';

/** How register is keyed and shown; millimetres are kept inside and in every file. */
export type RegisterUnit = 'mm' | 'in' | 'thou' | '64ths';

/** How web length is keyed and shown; metres are kept inside and in every file. */
export type LengthUnit = 'm' | 'ft' | 'repeats';

/** Exact by definition of the international inch and foot (1959). */
export const MM_PER_INCH = 25.4;
export const M_PER_FOOT = 0.3048;

/** Millimetres in one of the unit: 1, 25.4, 0.0254, 0.396875. */
export const MM_PER: Readonly<Record<RegisterUnit, number>> = {
  mm: 1,
  in: MM_PER_INCH,
  thou: MM_PER_INCH / 1000,
  '64ths': MM_PER_INCH / 64,
};

/** Register in the job's unit from mm, at full precision. */
export const registerFromMm = (mm: number, unit: RegisterUnit): number =>
  unit === 'mm' ? mm : (mm / MM_PER_INCH) * PER_INCH[unit];

/** Register in mm from the job's unit, at full precision. */
export const registerToMm = (value: number, unit: RegisterUnit): number =>
  unit === 'mm' ? value : (value * MM_PER_INCH) / PER_INCH[unit];

/** Web length in the job's unit from metres; a repeat is `repeat_mm` long. */
export const lengthFromM = (m: number, unit: LengthUnit, repeat_mm: number): number => {
  if (unit === 'm') return m;
  return unit === 'ft' ? m / M_PER_FOOT : (m * 1000) / repeat_mm;
};

/** Web length in metres from the job's unit. */
export const lengthToM = (value: number, unit: LengthUnit, repeat_mm: number): number => {
  if (unit === 'm') return value;
  return unit === 'ft' ? value * M_PER_FOOT : (value * repeat_mm) / 1000;
};

/** The side as a word says it: `AHEAD`, `BEHIND`, `OPERATOR SIDE`, `GEAR SIDE`. */
export const sideWord = (mm: number, axis: Axis): string => {
  if (axis === 'along') return mm > 0 ? 'AHEAD' : 'BEHIND';
  return mm > 0 ? 'OPERATOR SIDE' : 'GEAR SIDE';
};

/**
 * Register as it is shown: two decimals of mm (finer is below what a loupe reads), 0.1 thou, 0.0001 in, a tenth of a 64th. With the side
 * as a word (`0.05 AHEAD`) or as a sign (`+0.05`); no side when it rounds to zero. Example: 0.127 mm in thou → `+5.0`.
 */
export const formatRegister = (
  mm: number,
  unit: RegisterUnit,
  side: { readonly sign: 'sign' } | { readonly sign: 'word'; readonly axis: Axis },
): string => {
  const digits = Math.abs(registerFromMm(mm, unit)).toFixed(DECIMALS[unit]);
  const size = unit === '64ths' ? `${digits.replace(/\.0$/, '')}/64` : digits;
  if (Number(digits) === 0) return unit === '64ths' ? '0' : size;
  return side.sign === 'sign' ? `${mm > 0 ? '+' : '-'}${size}` : `${size}${NAMED[unit]} ${sideWord(mm, side.axis)}`;
};

/** A length along the web as it is shown, whole and grouped in threes: `21 450 m`, `70 374 ft`, `70 374 repeats`. */
export const formatLength = (m: number, unit: LengthUnit, repeat_mm: number): string => {
  const whole = Math.round(lengthFromM(m, unit, repeat_mm));
  const grouped = String(Math.abs(whole)).replace(/\B(?=(\d{3})+$)/g, ' ');
  return `${whole < 0 ? '-' : ''}${grouped} ${unit}`;
};

const PER_INCH: Readonly<Record<Exclude<RegisterUnit, 'mm'>, number>> = { in: 1, thou: 1000, '64ths': 64 };
const DECIMALS: Readonly<Record<RegisterUnit, number>> = { mm: 2, in: 4, thou: 1, '64ths': 1 };
/** Millimetres go without saying; the others are named after the number. */
const NAMED: Readonly<Record<RegisterUnit, string>> = { mm: '', in: ' in', thou: ' thou', '64ths': ' in' };
