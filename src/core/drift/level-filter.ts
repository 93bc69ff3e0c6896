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
const KEPT = 18;
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

/** Before the next reading, `steps` usual check distances on. After a splice, start or correction (`unrest` > 1) changes are likelier. */
export const ahead = (f: LevelFilter, sigma: number, steps: number, unrest: number): LevelFilter => {
  const s2 = sigma * sigma;
  const here = spreadOf(f);
  const starts = BEGIN.map((b, kind) => (kind === HOLDING ? b : Math.min(0.1, b * unrest)));
  const jump = Math.min(0.2, JUMP * unrest);
  const stay = 1 - jump - starts.reduce((a, b) => a + b, 0);
  const next: Account[] = f.map((a) => onward({ ...a, weight: a.weight * stay }, s2, steps));
  const back = jump * (unrest > 1 ? SETTLES_AFTER_UNREST : SETTLES);
  const wide = JUMP_SIZE * s2;
  next.push({
    kind: HOLDING,
    weight: jump - back,
    level: here.mean,
    variance: here.variance + wide,
    slope: 0,
    slopeVariance: 0,
    slopeWith: 0,
  });
  // A jump that settles back: its slope takes it to where it came from.
  const fade = 1 - (SLOPE_KEPT[SETTLING] ?? 1);
  next.push({
    kind: SETTLING,
    weight: back,
    level: here.mean,
    variance: here.variance + wide,
    slope: 0,
    slopeVariance: 1.1 * fade * fade * wide,
    slopeWith: -fade * wide,
  });
  starts.forEach((weight, kind) => {
    const fresh: Account = {
      kind,
      weight,
      level: here.mean,
      variance: here.variance,
      slope: 0,
      slopeVariance: (SLOPE_START[kind] ?? 0) ** 2 * s2,
      slopeWith: 0,
    };
    next.push(onward(fresh, s2, steps));
  });
  return next;
};

/** Takes one reading with scatter `sigma`. */
export const readLevel = (p: LevelFilter, sigma: number, reading: number): LevelFilter => {
  const s2 = sigma * sigma;
  const next = p.map((a) => readAccount(a, s2, reading));
  next.sort((a, b) => b.weight - a.weight || a.kind - b.kind);
  return normal(next.slice(0, KEPT));
};

/** Without a reading only the likeliest accounts are kept. */
export const unread = (p: LevelFilter): LevelFilter =>
  normal([...p].sort((a, b) => b.weight - a.weight || a.kind - b.kind).slice(0, KEPT));

/** A known move of uncertain size was made: the level is less sure by `variance`. */
export const loosen = (f: LevelFilter, variance: number): LevelFilter =>
  f.map((a) => ({ ...a, variance: a.variance + variance }));

/** Mean and standard deviation over the accounts. */
export const levelOf = (f: LevelFilter): { readonly mean_mm: number; readonly sd_mm: number } => {
  const s = spreadOf(f);
  return { mean_mm: s.mean, sd_mm: Math.sqrt(s.variance) };
};

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

const onward = (a: Account, s2: number, steps: number): Account => {
  const added = (ADDED[a.kind] ?? 0) * s2 * steps;
  if (a.slopeVariance === 0 && a.slope === 0) return { ...a, variance: a.variance + added };
  const kept = (SLOPE_KEPT[a.kind] ?? 1) ** steps;
  // A fading slope has gone this much farther by then, per unit of it.
  const reach = kept === 1 ? steps : (1 - kept) / (1 - (SLOPE_KEPT[a.kind] ?? 1));
  return {
    kind: a.kind,
    weight: a.weight,
    level: a.level + reach * a.slope,
    variance: a.variance + 2 * reach * a.slopeWith + reach * reach * a.slopeVariance + added,
    slope: kept * a.slope,
    slopeVariance: kept * kept * a.slopeVariance + (SLOPE_ADDED[a.kind] ?? 0) * s2 * steps,
    slopeWith: kept * (a.slopeWith + reach * a.slopeVariance),
  };
};

const readAccount = (a: Account, s2: number, reading: number): Account => {
  const off = reading - a.level;
  const spread = a.variance + s2;
  const wide = a.variance + WRONG_SIZE * s2;
  const right = ((1 - WRONG) * Math.exp(Math.max(-300, (-0.5 * off * off) / spread))) / Math.sqrt(spread);
  const wrong = (WRONG * Math.exp(Math.max(-300, (-0.5 * off * off) / wide))) / Math.sqrt(wide);
  const trust = right / (right + wrong);
  const gain = a.variance / spread;
  const slopeGain = a.slopeWith / spread;
  const doubt = trust * (1 - trust) * off * off;
  return {
    kind: a.kind,
    weight: a.weight * (right + wrong),
    level: a.level + trust * gain * off,
    variance: a.variance * (1 - trust * gain) + doubt * gain * gain,
    slope: a.slope + trust * slopeGain * off,
    slopeVariance: Math.max(0, a.slopeVariance - trust * slopeGain * a.slopeWith + doubt * slopeGain * slopeGain),
    slopeWith: a.slopeWith * (1 - trust * gain) + doubt * gain * slopeGain,
  };
};

const normal = (accounts: readonly Account[]): LevelFilter => {
  const total = accounts.reduce((sum, a) => sum + a.weight, 0);
  return total > 0
    ? accounts.map((a) => ({ ...a, weight: a.weight / total }))
    : accounts.map((a) => ({ ...a, weight: 1 / accounts.length }));
};
