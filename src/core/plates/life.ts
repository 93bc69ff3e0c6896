/**
 * One life of a clean plate, from wash (or start) on, metres: first seen building or dirty between two checks (from, to], or
 * still clean at `from` when it was washed or the run ended (`to` null).
 */
export type Life = { readonly from_m: number; readonly to_m: number | null };

const SHAPES = Array.from({ length: 6 }, (_, i) => Math.exp(-0.31 + 0.4 * i));
const SCALES = Array.from({ length: 21 }, (_, i) => Math.exp(Math.log(15000) - 3.2 + 0.32 * i));
const SHAPE_BELIEF = { mean: Math.log(2), sd: 0.45 };
const SCALE_BELIEF = { mean: Math.log(15000), sd: 1 };

/**
 * How long a plate runs clean, as weights over Weibull shapes and scales: belief times the likelihood of the lives, each
 * interval- or right-censored. No life: the belief alone (shape about 2, 63 % dirty by 15 km, both wide; invented, not a standard).
 */
export const beliefOfLives = (lives: readonly Life[]): readonly number[] => {
  const logs = SHAPES.flatMap((shape) =>
    SCALES.map((scale) => {
      const prior =
        -0.5 * ((Math.log(shape) - SHAPE_BELIEF.mean) / SHAPE_BELIEF.sd) ** 2 -
        0.5 * ((Math.log(scale) - SCALE_BELIEF.mean) / SCALE_BELIEF.sd) ** 2;
      return lives.reduce((sum, life) => sum + logLikelihood(life, shape, scale), prior);
    }),
  );
  const top = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - top));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
};

/** Log likelihood of one life under a Weibull of this shape and scale (m). */
export const logLikelihood = (life: Life, shape: number, scale: number): number => {
  const hazardFrom = (Math.max(0, life.from_m) / scale) ** shape;
  if (life.to_m === null) return -hazardFrom;
  const hazardTo = (life.to_m / scale) ** shape;
  // log(exp(-a) − exp(-b)), kept exact when a and b are close.
  return -hazardFrom + Math.log(Math.max(1e-300, -Math.expm1(hazardFrom - hazardTo)));
};

/**
 * Chance that a plate still clean after `from_m` is building or dirty before `to_m` (metres since its wash).
 * Example: belief alone, clean at 15 km, looked at again at 17 km.
 */
export const chanceDirty = (weights: readonly number[], from_m: number, to_m: number): number => {
  let still = 0;
  let clean = 0;
  for (let i = 0; i < SHAPES.length; i += 1) {
    for (let j = 0; j < SCALES.length; j += 1) {
      const weight = weights[i * SCALES.length + j] ?? 0;
      if (weight < 1e-6) continue;
      const shape = SHAPES[i] ?? 1;
      const scale = SCALES[j] ?? 1;
      const alive = weight * Math.exp(-((Math.max(0, from_m) / scale) ** shape));
      still += alive;
      clean +=
        alive * -Math.expm1((Math.max(0, from_m) / scale) ** shape - (Math.max(from_m, to_m, 0) / scale) ** shape);
    }
  }
  return still <= 0 ? 1 : clean / still;
};

/** Metres by which so large a share of washed plates has become dirty. */
export const dirtyBy = (weights: readonly number[], share: number): number => {
  let low = 1;
  let high = 1e7;
  for (let i = 0; i < 60; i += 1) {
    const middle = Math.sqrt(low * high);
    if (chanceDirty(weights, 0, middle) < share) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
};
