import { fitLife, type Life, logPosterior } from './fit-life.js';

/** What is believed of a plate's life: Weibulls with weights that sum to 1. */
export type LifeBelief = readonly { readonly shape: number; readonly scale_m: number; readonly weight: number }[];

// Gauss–Hermite, five points, standard normal weight (Abramowitz & Stegun table 25.10, rescaled; from memory, sums tested).
const NODES = [
  { at: 0, weight: 0.533333333333 },
  { at: 1.355626179974, weight: 0.222075922006 },
  { at: -1.355626179974, weight: 0.222075922006 },
  { at: 2.856970013873, weight: 0.011257411328 },
  { at: -2.856970013873, weight: 0.011257411328 },
] as const;

/**
 * How long a plate runs clean, with all that is not known about it: the fit with belief, and 25 Weibulls around it weighted by
 * how likely they make the lives (adaptive Gauss–Hermite). No life: the belief about any plate alone.
 */
export const beliefOfLives = (lives: readonly Life[]): LifeBelief => {
  const fit = fitLife(lives, true);
  if (fit === null) return [];
  const { shape: huu, both: huv, scale: hvv } = fit.curvature;
  // Cholesky of the covariance: the scale's spread, then the shape's given it.
  const determinant = Math.max(1e-12, huu * hvv - huv * huv);
  const sdScale = Math.sqrt(huu / determinant);
  const slope = -huv / huu;
  const sdShape = Math.sqrt(1 / huu);
  const [u, v] = [Math.log(fit.shape), Math.log(fit.scale_m)];
  const top = logPosterior(lives, u, v, true);
  const points = NODES.flatMap((a) =>
    NODES.map((b) => {
      const dv = sdScale * a.at;
      const du = slope * dv + sdShape * b.at;
      const gauss = -0.5 * (a.at ** 2 + b.at ** 2);
      const weight = a.weight * b.weight * Math.exp(logPosterior(lives, u + du, v + dv, true) - top - gauss);
      return { shape: Math.exp(u + du), scale_m: Math.exp(v + dv), weight };
    }),
  );
  const total = points.reduce((sum, point) => sum + point.weight, 0);
  return points.map((point) => ({ ...point, weight: point.weight / total }));
};

/**
 * Chance that a plate still clean after `from_m` is building or dirty before `to_m` (metres since its wash).
 * Example: a plate always dirty by about 10 km, clean at 8 km: likely dirty before 11 km.
 */
export const chanceDirty = (belief: LifeBelief, from_m: number, to_m: number): number => {
  const from = Math.max(0, from_m);
  const to = Math.max(from, to_m);
  let still = 0;
  let dirty = 0;
  for (const { shape, scale_m, weight } of belief) {
    const until = (from / scale_m) ** shape;
    const alive = weight * Math.exp(-until);
    still += alive;
    dirty += alive * -Math.expm1(until - (to / scale_m) ** shape);
  }
  return still <= 0 ? 1 : dirty / still;
};

/** Metres by which so large a share of washed plates has become dirty. */
export const dirtyBy = (belief: LifeBelief, share: number): number => {
  let low = 1;
  let high = 1e7;
  for (let i = 0; i < 60; i += 1) {
    const middle = Math.sqrt(low * high);
    if (chanceDirty(belief, 0, middle) < share) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
};
