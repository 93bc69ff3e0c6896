import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';

/** Minutes as typed: `60`, `90 min`, `1.5 h`. */
export const understandMinutes = (text: string): Result<number> => {
  const found = /^(\d{1,4}(?:[.,]\d{1,3})?)\s*(min|mins|minutes?|h|hours?)?$/i.exec(text.trim());
  if (found === null) return fail(`${quoted(text.trim())} is not a time; write it like 60 or 1.5 h`);
  const minutes = Number((found[1] ?? '').replace(',', '.')) * (/^h/i.test(found[2] ?? '') ? 60 : 1);
  return minutes >= 1 && minutes <= 1440 ? ok(minutes) : fail(`${minutes} minutes? Allowed: 1 to 1440`);
};
