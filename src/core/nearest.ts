import { closest, distance } from 'fastest-levenshtein';

/** The word of a list that was probably meant: two letters away, or a third of them; null when none is near. */
export const nearest = (word: string, words: readonly string[]): string | null => {
  if (words.length === 0) return null;
  const lowered = word.toLowerCase();
  const byLower = new Map(words.map((known) => [known.toLowerCase(), known]));
  const best = closest(lowered, [...byLower.keys()]);
  const away = distance(lowered, best);
  return away < lowered.length && away <= (best.length < 3 ? 1 : Math.max(2, Math.ceil(best.length / 3)))
    ? (byLower.get(best) ?? null)
    : null;
};
