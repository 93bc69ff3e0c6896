import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import { type LengthUnit, lengthToM, M_PER_FOOT, MM_PER_INCH } from '../units.js';

/** A length along the web: metres, and the text to keep, which names its unit. */
export type Length = { readonly m: number; readonly text: string };

/** What is allowed, and what a number without a unit is. */
export type LengthAsked = {
  readonly unit: LengthUnit;
  readonly repeat_mm: number;
  readonly low_m: number;
  readonly high_m: number;
};

/**
 * A length as typed: `1.2`, `1,2 m`, `4 ft`, `48 in`, `1200 mm`, `2 000`. A comma before just three digits is asked back: `2,000` is two thousand to
 * one man and two to another. Example: `4 ft` → 1.2192 m.
 */
export const understandLength = (text: string, { unit, repeat_mm, low_m, high_m }: LengthAsked): Result<Length> => {
  const typed = text.trim();
  const found = LENGTH.exec(typed.replace(/(\d) (?=\d{3}(?!\d))/g, '$1'));
  if (found === null) return fail(`${quoted(typed)} is not a length; write it like ${example(unit)}`);
  const [, number = '', word = ''] = found;
  if (/^\d{1,3},\d{3}$/.test(number)) {
    const [whole = '', part = ''] = number.split(',');
    return fail(`${number} can mean ${whole}${part} or ${whole}.${part}: write it without the comma`);
  }
  const digits = number.replace(',', '.');
  const named = word === '' ? unit : (UNITS.find(([, words]) => words.includes(word.toLowerCase()))?.[0] ?? unit);
  const value = Number(digits);
  const m = Number(toM(value, named, repeat_mm).toFixed(4));
  if (!(m >= low_m && m <= high_m))
    return fail(
      `${digits} ${named}${named === 'm' ? '' : ` is ${round(m)} m`}: allowed are ${round(low_m)} to ${round(high_m)} m${hint(m, high_m, word)}`,
    );
  return ok({ m, text: `${digits} ${named}` });
};

type Named = LengthUnit | 'mm' | 'cm' | 'in';

const UNITS: readonly (readonly [Named, readonly string[]])[] = [
  ['m', ['m', 'metre', 'metres', 'meter', 'meters']],
  ['ft', ['ft', 'foot', 'feet', "'"]],
  ['in', ['in', 'inch', 'inches', '"']],
  ['mm', ['mm']],
  ['cm', ['cm']],
  ['repeats', ['repeat', 'repeats']],
];
const LENGTH = new RegExp(
  `^(\\d{1,9}(?:[.,]\\d{0,6})?|[.,]\\d{1,6})\\s*(${UNITS.flatMap(([, words]) => words)
    .toSorted((a, b) => b.length - a.length)
    .join('|')})?$`,
  'i',
);

const toM = (value: number, unit: Named, repeat_mm: number): number => {
  if (unit === 'mm') return value / 1000;
  if (unit === 'cm') return value / 100;
  if (unit === 'in') return (value * MM_PER_INCH) / 1000;
  return unit === 'ft' ? value * M_PER_FOOT : lengthToM(value, unit, repeat_mm);
};

const example = (unit: LengthUnit): string =>
  unit === 'ft' ? '4 or 1.2 m' : unit === 'm' ? '1.2 or 4 ft' : '5000 or 1500 m';
const hint = (m: number, high_m: number, word: string): string =>
  word === '' && m > high_m && m / 1000 <= high_m ? '. If it is millimetres, write mm behind it' : '';
const round = (m: number): string => String(Number(m.toPrecision(6)));
