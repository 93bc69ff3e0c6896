import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import { MM_PER_INCH } from '../units.js';
import { NOT_KNOWN, type Understood } from './question.js';

/** What one division moves the print, as typed: `0.02`, `0.02 mm`, `1 thou`, `0.001 in`; or that it is not known. Example: `1 thou` → 0.0254 mm. */
export const understandDivision = (text: string): Result<Understood> => {
  const typed = text.trim().toLowerCase();
  if (/^(not( known)?|do(n't| not) know|no|\?)$/.test(typed)) return ok({ text: NOT_KNOWN });
  const mm = divisionMm(typed);
  if (mm === null)
    return fail(`${quoted(text.trim())} is not a size; write it like 0.02 mm or 1 thou, or ${NOT_KNOWN}`);
  if (!(mm > 0 && mm <= MOST_MM))
    return fail(`${quoted(text.trim())} is ${mm} mm: allowed are more than 0 to ${MOST_MM} mm`);
  return ok({ text: `${mm} mm` });
};

/** null = not a size. */
export const divisionMm = (text: string): number | null => {
  const found = /^(\d{0,4}(?:[.,]\d{1,6})?)\s*(mm|in|inch|thou|")?$/.exec(text.trim().toLowerCase());
  const value = Number((found?.[1] ?? '').replace(',', '.'));
  if (found === null || found[1] === '') return null;
  const unit = found[2] ?? 'mm';
  const mm = unit === 'mm' ? value : unit === 'thou' ? (value * MM_PER_INCH) / 1000 : value * MM_PER_INCH;
  return Number(mm.toFixed(6));
};

const MOST_MM = 10;
