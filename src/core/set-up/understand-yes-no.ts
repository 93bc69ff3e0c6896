import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import type { Understood } from './question.js';

/** `y` or `n`, however it was typed. */
export const understandYesNo = (text: string): Result<Understood> => {
  const word = text.trim().toLowerCase();
  if (/^y(es)?$/.test(word)) return ok({ text: 'y' });
  if (/^no?$/.test(word)) return ok({ text: 'n' });
  return fail(`${quoted(text.trim())} is neither yes nor no: type y or n`);
};
