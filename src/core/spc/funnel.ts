/**
 * What a rule of correcting does to a process that was steady: where each result lands, given the scatter alone.
 * How: rule 1 leaves it alone; rule 2 moves back by the last error from where it stood; rule 3 sets it off the target
 * by the last error, the other way; rule 4 aims at the last result.
 * In: the scatter of each result in any unit. Out: the results in that unit; no readings give none.
 * `funnelVariance`: variance of result `k` (from 1), over that of the scatter: 1; 2 (1 at the first); k; k.
 * Source: W. E. Deming (1986), Out of the Crisis, 11 (the funnel). Example: scatter 1, 0, 0 lands at 1, -1, 0 by rule 2.
 */
export type FunnelRule = 1 | 2 | 3 | 4;

export const funnel = (rule: FunnelRule, scatter: readonly number[]): readonly number[] => {
  const results: number[] = [];
  for (const [k, e] of scatter.entries()) {
    const lastResult = results[k - 1] ?? 0;
    const lastScatter = scatter[k - 1] ?? 0;
    results.push(rule === 1 ? e : rule === 2 ? e - lastScatter : rule === 3 ? e - lastResult : lastResult + e);
  }
  return results;
};

export const funnelVariance = (rule: FunnelRule, k: number): number => {
  if (!Number.isInteger(k) || k < 1) throw new RangeError(`results are counted from 1, got ${k}`);
  return rule === 1 ? 1 : rule === 2 ? Math.min(k, 2) : k;
};
