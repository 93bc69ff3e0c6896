import type { Draft, LevelFilter } from './level-filter.js';

const KEPT = 11;
/** Accounts this much less likely than the likeliest are dropped at once. */
const LEAST = 1e-5;
/** Accounts nearer to one another than this are told as one: a sigma apart, or one with three times the variance of the other. */
const ALIKE = 0.5;
const ROUNDING = 1e-9;

/**
 * The likeliest accounts of a draft, weights summing to 1, so that the cost of a reading is constant. While there are too many, the least
 * likely is merged into one of its kind that says much the same, or dropped if there is none. Were it always dropped, a wandering or a
 * slope, of which a new account begins at every check and none is likely at first, would be believed less than the chances in ways.ts say.
 */
export const keepLikeliest = (d: Draft): LevelFilter => {
  let count = d.weight.length;
  let most = 0;
  for (let i = 0; i < count; i++) most = Math.max(most, d.weight[i] ?? 0);
  const lists = [d.kind, d.weight, d.level, d.variance, d.slope, d.slopeVariance, d.slopeWith];
  const drop = (i: number): void => {
    count -= 1;
    for (const list of lists) list[i] = list[count] ?? 0;
  };
  for (let i = count - 1; i >= 0; i--) if ((d.weight[i] ?? 0) < LEAST * most) drop(i);
  while (count > KEPT) {
    let least = 0;
    for (let i = 1; i < count; i++) if ((d.weight[i] ?? 0) < (d.weight[least] ?? 0)) least = i;
    const mate = alike(d, least, count);
    if (mate !== null) merge(d, least, mate);
    drop(least);
  }
  let total = 0;
  for (let i = 0; i < count; i++) total += d.weight[i] ?? 0;
  for (let i = 0; i < count; i++) d.weight[i] = total > 0 ? (d.weight[i] ?? 0) / total : 1 / count;
  for (const list of lists) list.length = count;
  return d;
};

/**
 * The account of its kind, among the first `count`, whose level says most nearly the same as that of account `i`; null = none near enough.
 * How far two normals are apart is their Jeffreys divergence (Kullback–Leibler both ways, the mean of the two). The slope is not compared:
 * when an account begins it is hardly known. Of two that have become the same it is the likelier: the rounding of a sum must not choose.
 */
const alike = (d: Draft, i: number, count: number): number | null => {
  const kind = d.kind[i] ?? 0;
  const level = d.level[i] ?? 0;
  const v = d.variance[i] ?? 0;
  let nearest: number | null = null;
  let near = ALIKE;
  for (let j = 0; j < count; j++) {
    if (j === i || d.kind[j] !== kind) continue;
    const w = d.variance[j] ?? 0;
    const off = level - (d.level[j] ?? 0);
    const far = ((v - w) * (v - w) + off * off * (v + w)) / (4 * v * w);
    if (far > near - ROUNDING) {
      if (nearest === null || far > near + ROUNDING || (d.weight[j] ?? 0) <= (d.weight[nearest] ?? 0)) continue;
    }
    near = far;
    nearest = j;
  }
  return nearest;
};

/** Account `into` becomes both: weights summed, mean and variance of the two together. */
const merge = (d: Draft, from: number, into: number): void => {
  const weight = (d.weight[from] ?? 0) + (d.weight[into] ?? 0);
  const a = (d.weight[from] ?? 0) / weight;
  const b = 1 - a;
  const level = (d.level[from] ?? 0) - (d.level[into] ?? 0);
  const slope = (d.slope[from] ?? 0) - (d.slope[into] ?? 0);
  const both = (list: number[], between: number): void => {
    list[into] = a * (list[from] ?? 0) + b * (list[into] ?? 0) + a * b * between;
  };
  d.weight[into] = weight;
  both(d.level, 0);
  both(d.variance, level * level);
  both(d.slope, 0);
  both(d.slopeVariance, slope * slope);
  both(d.slopeWith, level * slope);
};
