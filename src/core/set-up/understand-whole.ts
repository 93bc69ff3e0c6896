import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';

/** A whole number within bounds, as `96`. `what` names it in the refusal. */
export const understandWhole = (text: string, low: number, high: number, what: string): Result<number> => {
  const typed = text.trim();
  if (!/^\d{1,9}$/.test(typed)) return fail(`${quoted(typed)} is not a whole number of ${what}`);
  const number = Number(typed);
  return number >= low && number <= high ? ok(number) : fail(`${typed} ${what}? Allowed: ${low} to ${high}`);
};
