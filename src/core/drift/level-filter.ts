/**
 * Where one station's register truly is, without the scatter of reading it, and how it is going.
 *
 * Six ways it may behave from one check to the next, run side by side, each with its own estimate, weighed by how well they foretold the
 * readings (interacting multiple models: Blom & Bar-Shalom 1988, from memory): holding, two sizes of random walk, a steady slope, a jump,
 * and a reading that is simply wrong (kept out of the estimate). Cost per reading is constant. Sizes are in sigmas of the station's
 * scatter per usual check distance; mm throughout.
 */
export type LevelFilter = {
  readonly weight: readonly number[];
  readonly level: readonly number[];
  readonly variance: readonly number[];
  /** Slope model only: mm per usual check distance, its variance and its covariance with the level. */
  readonly slope: number;
  readonly slopeVariance: number;
  readonly slopeWith: number;
};

export const STEADY = 0;
const WALK = 2;
export const RAMP = 3;
const JUMP = 4;
const WRONG = 5;
const MODELS = 6;
/** The ways that are neither holding nor a slope. */
export const JUMP_AND_WALK: readonly number[] = [WALK, JUMP];

/** Variance added a check, in sigma². */
const ADDED = [0.02 ** 2, 0.12 ** 2, 0.4 ** 2, 0.03 ** 2, 2.5 ** 2, 0.02 ** 2];
const SLOPE_ADDED = 0.015 ** 2;
const SLOPE_FRESH = 0.15 ** 2;
/** A wrong reading lies anywhere within several sigmas. */
const WRONG_SPREAD = 6;

const FROM: readonly (readonly number[])[] = [
  [0.968, 0.006, 0.003, 0.006, 0.01, 0.007],
  [0.01, 0.958, 0.006, 0.009, 0.01, 0.007],
  [0.01, 0.01, 0.945, 0.018, 0.01, 0.007],
  [0.015, 0.009, 0.009, 0.95, 0.01, 0.007],
  [0.77, 0.06, 0.09, 0.06, 0.01, 0.01],
  [0.8, 0.07, 0.05, 0.05, 0.015, 0.015],
];

const START = [0.9, 0.05, 0.02, 0.03, 0, 0];

/** A level of `mean` known to `sd`; `slope` when it is known to be going. */
export const startLevel = (
  mean: number,
  sd: number,
  slope: { readonly mean: number; readonly sd: number } | null,
): LevelFilter => ({
  weight: slope === null ? START : [0.25, 0.05, 0.05, 0.65, 0, 0],
  level: Array.from({ length: MODELS }, () => mean),
  variance: Array.from({ length: MODELS }, () => sd * sd),
  slope: slope?.mean ?? 0,
  slopeVariance: slope === null ? 0 : slope.sd * slope.sd,
  slopeWith: 0,
});

/** Before the next reading, `steps` usual check distances on: the models mixed and moved on. */
export const ahead = (f: LevelFilter, sigma: number, steps: number, unrest: number): LevelFilter => {
  const weight = new Array<number>(MODELS).fill(0);
  const level = new Array<number>(MODELS).fill(0);
  const variance = new Array<number>(MODELS).fill(0);
  const s2 = sigma * sigma;
  let slope = 0;
  let slopeVariance = 0;
  let slopeWith = 0;
  for (let to = 0; to < MODELS; to++) {
    let w = 0;
    let m = 0;
    for (let from = 0; from < MODELS; from++) {
      const share = (f.weight[from] ?? 0) * moving(from, to, unrest);
      w += share;
      m += share * (f.level[from] ?? 0);
    }
    if (w <= 0) {
      weight[to] = 0;
      level[to] = f.level[STEADY] ?? 0;
      variance[to] = f.variance[STEADY] ?? s2;
      continue;
    }
    m /= w;
    let v = 0;
    for (let from = 0; from < MODELS; from++) {
      const share = ((f.weight[from] ?? 0) * moving(from, to, unrest)) / w;
      const d = (f.level[from] ?? 0) - m;
      v += share * ((f.variance[from] ?? 0) + d * d);
    }
    const base = to === RAMP ? 0 : (ADDED[to] ?? 0) * s2 * steps;
    weight[to] = w;
    level[to] = m;
    variance[to] = v + base;
    if (to === RAMP) {
      const stay = ((f.weight[RAMP] ?? 0) * moving(RAMP, RAMP, unrest)) / w;
      slope = stay * f.slope;
      const fresh = SLOPE_FRESH * s2;
      slopeVariance = stay * (f.slopeVariance + (f.slope - slope) ** 2) + (1 - stay) * (fresh + slope * slope);
      slopeWith = stay * (f.slopeWith + ((f.level[RAMP] ?? 0) - m) * (f.slope - slope));
      for (let from = 0; from < MODELS; from++) {
        if (from === RAMP) continue;
        const share = ((f.weight[from] ?? 0) * moving(from, to, unrest)) / w;
        slopeWith += share * ((f.level[from] ?? 0) - m) * (0 - slope);
      }
      level[RAMP] = m + slope * steps;
      variance[RAMP] = v + 2 * steps * slopeWith + steps * steps * slopeVariance + (ADDED[RAMP] ?? 0) * s2 * steps;
      slopeWith += steps * slopeVariance;
      slopeVariance += SLOPE_ADDED * s2 * steps;
    }
  }
  return { weight, level, variance, slope, slopeVariance, slopeWith };
};

/** Takes one reading with scatter `sigma`. */
export const readLevel = (p: LevelFilter, sigma: number, reading: number): LevelFilter => {
  const s2 = sigma * sigma;
  const weight = [...p.weight];
  const level = [...p.level];
  const variance = [...p.variance];
  let { slope, slopeVariance, slopeWith } = p;
  let total = 0;
  for (let m = 0; m < MODELS; m++) {
    const v = p.variance[m] ?? 0;
    const spread = m === WRONG ? v + WRONG_SPREAD * WRONG_SPREAD * s2 : v + s2;
    const off = reading - (p.level[m] ?? 0);
    const likely = Math.exp(Math.max(-300, (-0.5 * off * off) / spread)) / Math.sqrt(spread);
    const w = (p.weight[m] ?? 0) * likely;
    weight[m] = w;
    total += w;
    if (m === WRONG) continue;
    const gain = v / spread;
    level[m] = (p.level[m] ?? 0) + gain * off;
    variance[m] = v * (1 - gain);
    if (m === RAMP) {
      const slopeGain = p.slopeWith / spread;
      slope = p.slope + slopeGain * off;
      slopeVariance = Math.max(1e-12 * s2, p.slopeVariance - slopeGain * p.slopeWith);
      slopeWith = p.slopeWith * (1 - gain);
    }
  }
  for (let m = 0; m < MODELS; m++) weight[m] = total > 0 ? (weight[m] ?? 0) / total : (START[m] ?? 0);
  return { weight, level, variance, slope, slopeVariance, slopeWith };
};

/** A known move of uncertain size was made: the level is less sure by `variance`. */
export const loosen = (f: LevelFilter, variance: number): LevelFilter => ({
  ...f,
  variance: f.variance.map((v) => v + variance),
});

/** Mean and standard deviation over the models. */
export const levelOf = (f: LevelFilter): { readonly mean_mm: number; readonly sd_mm: number } => {
  let mean = 0;
  for (let m = 0; m < MODELS; m++) mean += (f.weight[m] ?? 0) * (f.level[m] ?? 0);
  let variance = 0;
  for (let m = 0; m < MODELS; m++) {
    const d = (f.level[m] ?? 0) - mean;
    variance += (f.weight[m] ?? 0) * ((f.variance[m] ?? 0) + d * d);
  }
  return { mean_mm: mean, sd_mm: Math.sqrt(variance) };
};

/** Chance of going from one behaviour to another; after a splice or start (`unrest` > 1) jumps and walks are likelier. */
const moving = (from: number, to: number, unrest: number): number => {
  const p = FROM[from]?.[to] ?? 0;
  if (unrest === 1) return p;
  const restless =
    (FROM[from]?.[WALK] ?? 0) * (from === WALK ? 0 : 1) + (from === JUMP ? 0 : (FROM[from]?.[JUMP] ?? 0));
  const scale = (1 - unrest * restless) / (1 - restless);
  if ((to === WALK && from !== WALK) || (to === JUMP && from !== JUMP)) return p * unrest;
  return p * scale;
};
