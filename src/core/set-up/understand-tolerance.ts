import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import { MM_PER, MM_PER_INCH, type RegisterUnit } from '../units.js';

/** A tolerance each way: millimetres, and the text to keep, which names its unit. */
export type Tolerance = { readonly mm: number; readonly text: string };

/**
 * A tolerance as typed, in the job's unit unless it names another: `0.15`, `0,15`, `+/- 6 thou`, `1/64`. In a mm or inch job a whole number is asked
 * back, since on the check grid whole digits count hundredths or thou. Example: `6` in a thou job → 0.1524 mm.
 */
export const understandTolerance = (text: string, unit: RegisterUnit): Result<Tolerance> => {
  const typed = text.trim().replace(/^(?:±|\+\/?-)\s*/, '');
  const fraction = /^(\d{1,3})\/(2|4|8|16|32|64|128)(?:\s*(?:in|inch|"))?$/i.exec(typed);
  if (fraction !== null)
    return within((Number(fraction[1]) / Number(fraction[2])) * MM_PER_INCH, `${fraction[1]}/${fraction[2]} in`);
  const found = /^(\d{1,4}(?:[.,]\d{0,6})?|[.,]\d{1,6})\s*(mm|in|inch|"|thou|64ths)?$/i.exec(typed);
  if (found === null) return fail(`${quoted(text.trim())} is not a tolerance; write it like ${EXAMPLE[unit]}`);
  const digits = (found[1] ?? '').replace(',', '.');
  const named = unitOf(found[2]);
  if (named === null && /^\d+$/.test(digits) && Number(digits) > 0) {
    const small = unit === 'mm' ? (Number(digits) / 100).toFixed(2) : (Number(digits) / 1000).toFixed(3);
    if (unit === 'mm' || unit === 'in')
      return fail(`${digits} can mean ${small} ${unit} or ${digits} ${unit}: write ${small} or ${digits}.0`);
  }
  const used = named ?? unit;
  return within(Number(digits) * MM_PER[used], used === '64ths' ? `${digits}/64 in` : `${digits} ${used}`);
};

const EXAMPLE: Readonly<Record<RegisterUnit, string>> = {
  mm: '0.15',
  in: '0.006 or 1/64',
  thou: '6',
  '64ths': '1 (one 64th)',
};
const LARGEST_MM = 50;

const unitOf = (word: string | undefined): RegisterUnit | null => {
  const named = word?.toLowerCase();
  if (named === undefined) return null;
  return named === 'mm' || named === 'thou' || named === '64ths' ? named : 'in';
};

const within = (mm: number, text: string): Result<Tolerance> => {
  if (mm <= 0) return fail('a tolerance of 0 is never held; give how far each way is still good');
  if (mm > LARGEST_MM) return fail(`${text} is more than ${LARGEST_MM} mm each way; that is no register tolerance`);
  // A billionth of a mm: 3/64 in is then the same number however it was typed.
  return ok({ mm: Number(mm.toFixed(9)), text });
};
