import type { Life } from '../../core/plates/fit-life.js';

/**
 * How far plates run before half of them are no longer clean, metres: the product-limit estimate of the share still clean (Kaplan and Meier,
 * 1958), a plate that was first seen building or dirty between two checks counted at the middle of them, one still clean when it was washed
 * counted as lasting longer. null when fewer than half are seen to end. Example: the 21 remission times of Freireich et al. (1963), textbook
 * example of the method: median 23.
 */
export function medianLife(lives: readonly Life[]): number | null {
  const ends = lives
    .map(({ from_m, to_m }) => ({ at_m: to_m === null ? from_m : (from_m + to_m) / 2, ended: to_m !== null }))
    .sort((a, b) => a.at_m - b.at_m || Number(b.ended) - Number(a.ended));
  let clean = 1;
  for (const [index, { at_m, ended }] of ends.entries()) {
    if (ended) clean *= 1 - 1 / (ends.length - index);
    if (clean <= 0.5 + 1e-12) return at_m;
  }
  return null;
}
