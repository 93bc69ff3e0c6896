import { nearest } from '../nearest.js';
import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import type { Understood } from './question.js';

/** One of a few words, in any case, or the beginning of just one of them. */
export const understandChoice = (text: string, words: readonly string[]): Result<Understood> => {
  const typed = text.trim().toLowerCase();
  const exact = words.find((word) => word.toLowerCase() === typed);
  const begun = words.filter((word) => typed !== '' && word.toLowerCase().startsWith(typed));
  const chosen = exact ?? (begun.length === 1 ? begun[0] : undefined);
  if (chosen !== undefined) return ok({ text: chosen });
  const near = nearest(typed, words);
  return fail(
    `${quoted(text.trim())} is not one of ${words.join(', ')}${near === null ? '' : `; did you mean ${quoted(near)}?`}`,
  );
};
