/**
 * Where one station's register truly is, without the scatter of reading it, and how it is going.
 *
 * Several accounts of the station run side by side: holding since some check, wandering by steps of three sizes, going at a steady slope,
 * or settling (a slope that fades). Each keeps its own estimate and is weighed by how well it foretold the readings; at every check a
 * jump, a slope or a wandering may begin, and the least likely accounts are dropped, so the cost of a reading is constant
 * (multi-process models with pruning: Harrison & Stevens, J. Royal Statist. Soc. B 38 (1976), from memory). One wild reading counts as
 * wrong in proportion to how unlikely it is, and leaves the estimate alone to that extent.
 * Sizes below are in sigmas of the station's scatter per usual distance between checks; estimates are in mm.
 */
export type Account = {
  readonly kind: number;
  readonly weight: number;
  readonly level: number;
  readonly variance: number;
  /** mm per usual check distance, its variance and its covariance with the level. */
  readonly slope: number;
  readonly slopeVariance: number;
  readonly slopeWith: number;
};

export type LevelFilter = readonly Account[];

export const HOLDING = 0;
export const WANDERING: readonly number[] = [1, 2, 3];
export const GOING = 4;
export const SETTLING = 5;

/** Variance added to the level a check, by kind, in sigma². */
const ADDED = [0.02 ** 2, 0.1 ** 2, 0.25 ** 2, 0.55 ** 2, 0.03 ** 2, 0.05 ** 2];
/** Slope a new account may start with (1 sigma), what it changes a check, and what is left of it a check later. */
const SLOPE_START = [0, 0, 0, 0, 0.12, 0.5];
const SLOPE_ADDED = [0, 0, 0, 0, 0.008 ** 2, 0.02 ** 2];
const SLOPE_KEPT = [1, 1, 1, 1, 1, 0.84];
/** Chance a check that a new account of each kind begins, from where the station now is. */
const BEGIN = [0.001, 0.004, 0.006, 0.006, 0.006, 0.002];
const JUMP = 0.003;
/** Share of jumps that settle back to where they came from. */
const SETTLES = 0.1;
const SETTLES_AFTER_UNREST = 0.5;
const JUMP_SIZE = 2.5 ** 2;
/** A wrong reading: how often, and how widely it lies. */
const WRONG = 0.004;
const WRONG_SIZE = 6 ** 2;
/** A jumped tooth: this share of jumps, and a smaller one of wrong readings, is of a size without measure. */
const HUGE_SHARE = 0.1;
const HUGE_WRONG_SHARE = 0.02;
const HUGE = 60 ** 2;
const KEPT = 18;
/** Accounts this much less likely than the likeliest are dropped at once. */
const LEAST = 1e-5;
const START = [0.5, 0.11, 0.13, 0.11, 0.1, 0.05];

/** A level of `mean` known to `sd`; `slope` when it is known to be going. `sigma` is the scatter of a reading. */
export const startLevel = (
  mean: number,
  sd: number,
  slope: { readonly mean: number; readonly sd: number } | null,
  sigma: number,
): LevelFilter =>
  START.map((w, kind) => ({
    kind,
    weight: slope === null ? w : kind === GOING ? 0.65 : 0.35 * w,
    level: mean,
    variance: sd * sd,
    slope: slope !== null && kind === GOING ? slope.mean : 0,
    slopeVariance: slope !== null && kind === GOING ? slope.sd ** 2 : ((SLOPE_START[kind] ?? 0) * sigma) ** 2,
    slopeWith: 0,
  }));

/** Is told one account as it will be: its kind, weight, level, the level's variance, and its slope likewise. */
export type Visit = (
  kind: number,
  weight: number,
  level: number,
  variance: number,
  slope: number,
  slopeVariance: number,
  slopeWith: number,
) => void;

/**
 * Every account as it will be `steps` usual check distances on, with those that may begin by then. After a splice, start or correction
 * (`unrest` > 1) changes are likelier.
 */
export const eachAhead = (f: LevelFilter, sigma: number, steps: number, unrest: number, visit: Visit): void => {
  const s2 = sigma * sigma;
  const here = spreadOf(f);
  const jump = Math.min(0.2, JUMP * unrest);
  let stay = 1 - jump;
  for (let kind = 0; kind < BEGIN.length; kind++) stay -= beginning(kind, unrest);
  for (const a of f)
    onward(a.kind, a.weight * stay, a.level, a.variance, a.slope, a.slopeVariance, a.slopeWith, s2, steps, visit);
  const back = jump * (unrest > 1 ? SETTLES_AFTER_UNREST : SETTLES);
  const wide = JUMP_SIZE * s2;
  visit(HOLDING, (jump - back) * (1 - HUGE_SHARE), here.mean, here.variance + wide, 0, 0, 0);
  visit(HOLDING, (jump - back) * HUGE_SHARE, here.mean, here.variance + HUGE * s2, 0, 0, 0);
  // A jump that settles back: its slope takes it to where it came from.
  const fade = 1 - (SLOPE_KEPT[SETTLING] ?? 1);
  visit(SETTLING, back, here.mean, here.variance + wide, 0, 1.1 * fade * fade * wide, -fade * wide);
  for (let kind = 0; kind < BEGIN.length; kind++) {
    const slopeVariance = (SLOPE_START[kind] ?? 0) ** 2 * s2;
    onward(kind, beginning(kind, unrest), here.mean, here.variance, 0, slopeVariance, 0, s2, steps, visit);
  }
};

/**
 * Goes on to the next check: `reading` with scatter `sigma`, or null when the station was not read. A known move of uncertain size made
 * in between makes the level less sure by `loose`.
 */
export const nextLevel = (
  f: LevelFilter,
  sigma: number,
  steps: number,
  unrest: number,
  loose: number,
  reading: number | null,
): LevelFilter => {
  const s2 = sigma * sigma;
  const next: Draft[] = [];
  eachAhead(f, sigma, steps, unrest, (kind, weight, level, variance, slope, slopeVariance, slopeWith) => {
    const a: Draft = { kind, weight, level, variance: variance + loose, slope, slopeVariance, slopeWith };
    if (reading !== null) take(a, s2, reading);
    next.push(a);
  });
  return likeliest(next);
};

/** Takes one more reading at the same check. */
export const readLevel = (f: LevelFilter, sigma: number, reading: number): LevelFilter => {
  const next = f.map((a): Draft => ({ ...a }));
  for (const a of next) take(a, sigma * sigma, reading);
  return likeliest(next);
};

/** Mean and standard deviation over the accounts. */
export const levelOf = (f: LevelFilter): { readonly mean_mm: number; readonly sd_mm: number } => {
  const s = spreadOf(f);
  return { mean_mm: s.mean, sd_mm: Math.sqrt(s.variance) };
};

/**
 * The level to act on: where the accounts disagree by more than `apart` (a wild reading that may be wrong or a jump), the mean and
 * standard deviation of those around the likeliest, if they carry most of the weight.
 */
export const likeliestLevel = (f: LevelFilter, apart: number): { readonly mean_mm: number; readonly sd_mm: number } => {
  let top: Account | undefined;
  for (const a of f) if (top === undefined || a.weight > top.weight) top = a;
  if (top === undefined) return levelOf(f);
  const at = top.level;
  const around = f.filter((a) => Math.abs(a.level - at) <= apart);
  const weight = around.reduce((sum, a) => sum + a.weight, 0);
  return weight > 0.5 ? levelOf(around) : levelOf(f);
};

/** Chance that the level lies farther than `limit` from `from`. */
export const chanceBeyond = (f: LevelFilter, from: number, limit: number): number =>
  f.reduce((sum, a) => sum + (Math.abs(a.level - from) > limit ? a.weight : 0), 0);

/** Chance that the station behaves in one of these ways. */
export const chanceOf = (f: LevelFilter, kinds: readonly number[]): number =>
  f.reduce((sum, a) => sum + (kinds.includes(a.kind) ? a.weight : 0), 0);

/** Mean slope over the accounts, mm per usual check distance. */
export const slopeOf = (f: LevelFilter): number => f.reduce((sum, a) => sum + a.weight * a.slope, 0);

const spreadOf = (f: LevelFilter): { readonly mean: number; readonly variance: number } => {
  let mean = 0;
  let total = 0;
  for (const a of f) {
    mean += a.weight * a.level;
    total += a.weight;
  }
  mean /= total;
  let variance = 0;
  for (const a of f) variance += a.weight * (a.variance + (a.level - mean) ** 2);
  return { mean, variance: variance / total };
};

type Draft = { -readonly [K in keyof Account]: Account[K] };

const beginning = (kind: number, unrest: number): number =>
  kind === HOLDING ? (BEGIN[kind] ?? 0) : Math.min(0.1, (BEGIN[kind] ?? 0) * unrest);

const onward = (
  kind: number,
  weight: number,
  level: number,
  before: number,
  slope: number,
  slopeVariance: number,
  slopeWith: number,
  s2: number,
  steps: number,
  visit: Visit,
): void => {
  const variance = before + (ADDED[kind] ?? 0) * s2 * steps;
  if (kind < GOING) {
    visit(kind, weight, level, variance, 0, 0, 0);
    return;
  }
  const keeps = SLOPE_KEPT[kind] ?? 1;
  const kept = keeps === 1 ? 1 : keeps ** steps;
  // A fading slope has gone this much farther by then, per unit of it.
  const reach = keeps === 1 ? steps : (1 - kept) / (1 - keeps);
  visit(
    kind,
    weight,
    level + reach * slope,
    variance + 2 * reach * slopeWith + reach * reach * slopeVariance,
    kept * slope,
    kept * kept * slopeVariance + (SLOPE_ADDED[kind] ?? 0) * s2 * steps,
    kept * (slopeWith + reach * slopeVariance),
  );
};

const take = (a: Draft, s2: number, reading: number): void => {
  const off = reading - a.level;
  const spread = a.variance + s2;
  const wide = a.variance + WRONG_SIZE * s2;
  const right = ((1 - WRONG) * Math.exp(Math.max(-300, (-0.5 * off * off) / spread))) / Math.sqrt(spread);
  let wrong = (WRONG * Math.exp(Math.max(-300, (-0.5 * off * off) / wide))) / Math.sqrt(wide);
  if (off * off > WRONG_SIZE * s2) {
    const huge = a.variance + HUGE * s2;
    wrong += (WRONG * HUGE_WRONG_SHARE * Math.exp(Math.max(-300, (-0.5 * off * off) / huge))) / Math.sqrt(huge);
  }
  const trust = right / (right + wrong);
  const gain = a.variance / spread;
  const doubt = trust * (1 - trust) * off * off;
  a.weight *= right + wrong;
  a.level += trust * gain * off;
  a.variance = a.variance * (1 - trust * gain) + doubt * gain * gain;
  if (a.kind < GOING) return;
  const slopeGain = a.slopeWith / spread;
  a.slope += trust * slopeGain * off;
  a.slopeVariance = Math.max(0, a.slopeVariance - trust * slopeGain * a.slopeWith + doubt * slopeGain * slopeGain);
  a.slopeWith = a.slopeWith * (1 - trust * gain) + doubt * gain * slopeGain;
};

/** The likeliest of accounts made just now, weights summing to 1. */
const likeliest = (accounts: Draft[]): LevelFilter => {
  let most = 0;
  for (const a of accounts) most = Math.max(most, a.weight);
  let kept = 0;
  for (const a of accounts) if (a.weight >= LEAST * most) accounts[kept++] = a;
  accounts.length = kept;
  while (accounts.length > KEPT) {
    let least = 0;
    for (let i = 1; i < accounts.length; i++)
      if ((accounts[i]?.weight ?? 0) < (accounts[least]?.weight ?? 0)) least = i;
    const last = accounts.pop();
    if (least < accounts.length && last !== undefined) accounts[least] = last;
  }
  let total = 0;
  for (const a of accounts) total += a.weight;
  for (const a of accounts) a.weight = total > 0 ? a.weight / total : 1 / accounts.length;
  return accounts;
};
