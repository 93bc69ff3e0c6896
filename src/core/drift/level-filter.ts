/**
 * Where one station's register truly is, without the scatter of reading it, and how it is going.
 *
 * Several accounts of the station run side by side: holding since some check, wandering by steps of three sizes, going at a steady slope,
 * or settling (a slope that fades). Each keeps its own estimate and is weighed by how well it foretold the readings; at every check a
 * jump, a slope or a wandering may begin, and the least likely accounts are merged or dropped, so the cost of a reading is constant
 * (multi-process models with pruning: Harrison & Stevens, J. Royal Statist. Soc. B 38 (1976), from memory). One wild reading counts as
 * wrong in proportion to how unlikely it is, and leaves the estimate alone to that extent.
 * Sizes below are in sigmas of the station's scatter per usual distance between checks; estimates are in mm.
 */
export type LevelFilter = {
  /** One entry an account in every list: how it behaves, how likely it is (the weights sum to 1), level and its variance. */
  readonly kind: readonly number[];
  readonly weight: readonly number[];
  readonly level: readonly number[];
  readonly variance: readonly number[];
  /** mm per usual check distance, its variance and its covariance with the level. */
  readonly slope: readonly number[];
  readonly slopeVariance: readonly number[];
  readonly slopeWith: readonly number[];
};

/** A filter while it is being worked out. */
export type Draft = { -readonly [K in keyof LevelFilter]: number[] };

export const HOLDING = 0;
export const WANDERING: readonly number[] = [1, 2, 3];
export const GOING = 4;
export const SETTLING = 5;

/** Slope an account that begins to go or to settle may have, 1 sigma, by kind. */
export const SLOPE_START = [0, 0, 0, 0, 0.16, 0.85];
const START = [0.52, 0.1, 0.15, 0.05, 0.17, 0.01];

/** A level of `mean` known to `sd`; `sigma` is the scatter of a reading. */
export const startLevel = (mean: number, sd: number, sigma: number): LevelFilter => ({
  kind: START.map((_, kind) => kind),
  weight: START,
  level: START.map(() => mean),
  variance: START.map(() => sd * sd),
  slope: START.map(() => 0),
  slopeVariance: SLOPE_START.map((slope) => (slope * sigma) ** 2),
  slopeWith: START.map(() => 0),
});

/** Every account moved by as much, known to `variance`. */
export const shiftedBy = (f: LevelFilter, mm: number, variance: number): LevelFilter => ({
  ...f,
  level: f.level.map((l) => l + mm),
  variance: f.variance.map((v) => v + variance),
});

/** Mean and standard deviation over the accounts. */
export const levelOf = (f: LevelFilter): { readonly mean_mm: number; readonly sd_mm: number } => within(f, Infinity, 0);

/**
 * The level to act on: where the accounts disagree by more than `apart` (a wild reading that may be wrong or a jump), the mean and
 * standard deviation of those around the likeliest, if they carry most of the weight.
 */
export const likeliestLevel = (f: LevelFilter, apart: number): { readonly mean_mm: number; readonly sd_mm: number } => {
  let top = 0;
  for (let i = 1; i < f.weight.length; i++) if ((f.weight[i] ?? 0) > (f.weight[top] ?? 0)) top = i;
  const at = f.level[top] ?? 0;
  return chanceBeyond(f, at, apart) < 0.5 ? within(f, apart, at) : levelOf(f);
};

/** Chance that the level lies farther than `limit` from `from`. */
export const chanceBeyond = (f: LevelFilter, from: number, limit: number): number =>
  f.weight.reduce((sum, w, i) => sum + (Math.abs((f.level[i] ?? 0) - from) > limit ? w : 0), 0);

/** Chance that the station behaves in one of these ways. */
export const chanceOf = (f: LevelFilter, kinds: readonly number[]): number =>
  f.weight.reduce((sum, w, i) => sum + (kinds.includes(f.kind[i] ?? 0) ? w : 0), 0);

/** Mean slope over the accounts, mm per usual check distance. */
export const slopeOf = (f: LevelFilter): number => f.weight.reduce((sum, w, i) => sum + w * (f.slope[i] ?? 0), 0);

const within = (f: LevelFilter, apart: number, at: number): { readonly mean_mm: number; readonly sd_mm: number } => {
  let total = 0;
  let mean = 0;
  for (let i = 0; i < f.weight.length; i++) {
    const level = f.level[i] ?? 0;
    if (Math.abs(level - at) > apart) continue;
    total += f.weight[i] ?? 0;
    mean += (f.weight[i] ?? 0) * level;
  }
  mean /= total;
  let variance = 0;
  for (let i = 0; i < f.weight.length; i++) {
    const level = f.level[i] ?? 0;
    if (Math.abs(level - at) <= apart) variance += (f.weight[i] ?? 0) * ((f.variance[i] ?? 0) + (level - mean) ** 2);
  }
  return { mean_mm: mean, sd_mm: Math.sqrt(variance / total) };
};
