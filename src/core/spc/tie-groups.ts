/** Sizes of the groups of equal values (groups of two or more), largest first. Example: 1, 2, 2, 1, 2 has 3 and 2. */
export const tieGroups = (values: readonly number[]): readonly number[] => {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()].filter((count) => count > 1).sort((a, b) => b - a);
};

/** The part n (n - 1) (2n + 5) that n readings, or a group of n equal ones, have in the variance of Kendall's S. */
export const kendallSpread = (n: number): number => n * (n - 1) * (2 * n + 5);
