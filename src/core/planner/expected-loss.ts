import { normalCdf } from '../spc/normal.js';
import type { Standing } from './standing.js';

/** What things cost, in metres of product; searched on one half of the seeds of the second press (bench obeyed). */
export type Costs = {
  /** Web that runs before something can be done again, m. */
  readonly horizon_m: number;
  /** A station at its limit, but inside, is worth so much: what it has no room left for comes later. */
  readonly offset_m: number;
  /** The same of one that creeps: it leaves the place it has by itself, and is turned again sooner or later. */
  readonly going_offset_m: number;
  /** One knob turned: the minute, and the chance that the hand errs. */
  readonly touch_m: number;
};

const AT = [1 / 6, 1 / 2, 5 / 6];
const FAR = 5;
/** Accounts less likely than this cost less than a metre together. */
const LEAST_WEIGHT = 3e-4;

/**
 * Metres lost to one station if its print is moved by `move` (as its reading shows it; `variance`: what the knob may give more or less): web
 * out of tolerance until the next check, and what being off its aim is worth beyond that.
 */
export const lossOf = (s: Standing, move: number, variance: number, tolerance_mm: number, costs: Costs): number => {
  let loss = 0;
  for (let i = 0; i < s.weight.length; i++) {
    const w = s.weight[i] ?? 0;
    if (w < LEAST_WEIGHT) continue;
    const from = s.now[i] ?? 0;
    const way = (s.next[i] ?? 0) - from;
    const v0 = s.nowVariance[i] ?? 0;
    const dv = (s.nextVariance[i] ?? 0) - v0;
    let out = 0;
    let square = 0;
    for (const t of AT) {
      const mean = from + t * way + move;
      const v = v0 + t * dv + variance;
      out += outside(mean, v, tolerance_mm);
      square += mean * mean + v;
    }
    loss += (w * (costs.horizon_m * out + (costs.offset_m * square) / (tolerance_mm * tolerance_mm))) / AT.length;
  }
  return loss;
};

/** Chance that a normal of this mean and variance lies outside ± `tolerance`. */
export const outside = (mean: number, variance: number, tolerance: number): number => {
  const sd = Math.sqrt(Math.max(variance, 1e-12));
  const room = (tolerance - Math.abs(mean)) / sd;
  if (room > FAR) return 0;
  if (room < -FAR) return 1;
  return normalCdf(-room, 0, 1);
};

/** Chance that a station is outside now. */
export const outNow = (s: Standing, tolerance_mm: number): number =>
  s.weight.reduce((sum, w, i) => sum + w * outside(s.now[i] ?? 0, s.nowVariance[i] ?? 0, tolerance_mm), 0);

/** Chance that a station is outside at the next check, if nothing is turned and nothing new begins. */
export const outNext = (s: Standing, tolerance_mm: number): number =>
  s.weight.reduce((sum, w, i) => sum + w * outside(s.next[i] ?? 0, s.nextVariance[i] ?? 0, tolerance_mm), 0);
