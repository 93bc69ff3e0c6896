import { fail, ok, type Result } from '../result.js';

/**
 * A level that wanders under reading scatter: how much of each reading's surprise belongs to the level. That share is
 * the weight an EWMA should have to follow it, and the gain a correction should have.
 * How: reading = level + scatter, level = level before + step; both variances by maximum likelihood through the Kalman
 * filter with nothing known of the first level, over the weight from 0 (it never moves) to 1 (all of it is movement):
 * a coarse search, then golden section. The differences then follow a moving average with theta = 1 - weight.
 * In: readings in any unit, evenly spaced. Out: variances in that unit squared; weight without a unit.
 * Too few: a refusal below 4 readings. Errors: no scatter at all is a refusal.
 * Source: J. Durbin and S. J. Koopman, Time Series Analysis by State Space Methods, 2; J. F. Muth (1960).
 * Example: the Nile 1871-1970 has scatter variance 15099, level variance 1469.1, weight 0.2671.
 */
export type LocalLevel = {
  readonly scatterVariance: number;
  readonly levelVariance: number;
  readonly weight: number;
  /** Variance of the one-step-ahead surprise. */
  readonly surpriseVariance: number;
  readonly logLikelihood: number;
};

export const localLevel = (values: readonly number[]): Result<LocalLevel> => {
  if (values.length < 4) return fail(`a wandering level needs at least 4 readings, got ${values.length}`);
  if (values.every((value) => value === values[0])) {
    return fail(`all ${values.length} readings are ${values[0]}: there is no scatter to divide up`);
  }
  const weight = bestWeight((candidate) => filter(values, candidate).logLikelihood);
  const { surprise, logLikelihood } = filter(values, weight);
  return ok({
    scatterVariance: surprise * (1 - weight),
    levelVariance: surprise * weight * weight,
    weight,
    surpriseVariance: surprise,
    logLikelihood,
  });
};

/** The weight the filter settles at, for a level variance of `ratio` times the scatter variance. */
export const settledWeight = (ratio: number): number => (Math.sqrt(ratio * ratio + 4 * ratio) - ratio) / 2;

/** Runs the filter in units of the settled surprise variance (scatter 1 - weight, level weight squared). */
const filter = (values: readonly number[], weight: number): { surprise: number; logLikelihood: number } => {
  const scatter = 1 - weight;
  const step = weight * weight;
  let level = values[0] ?? 0;
  let unsure = scatter + step;
  let squares = 0;
  let logs = 0;
  for (const value of values.slice(1)) {
    const variance = unsure + scatter;
    const gain = unsure / variance;
    squares += (value - level) ** 2 / variance;
    logs += Math.log(variance);
    level += gain * (value - level);
    unsure = unsure * (1 - gain) + step;
  }
  const n = values.length - 1;
  const surprise = squares / n;
  return { surprise, logLikelihood: -0.5 * (n * (Math.log(2 * Math.PI * surprise) + 1) + logs) };
};

const GOLDEN = (Math.sqrt(5) - 1) / 2;

const bestWeight = (likelihood: (weight: number) => number): number => {
  const tried = Array.from({ length: 101 }, (_, at) => ({ at, value: likelihood(at / 100) }));
  const best = tried.reduce((a, b) => (b.value > a.value ? b : a));
  let low = Math.max(0, best.at - 1) / 100;
  let high = Math.min(100, best.at + 1) / 100;
  for (let turn = 0; turn < 60; turn += 1) {
    const left = high - GOLDEN * (high - low);
    const right = low + GOLDEN * (high - low);
    if (likelihood(left) >= likelihood(right)) high = right;
    else low = left;
  }
  const middle = (low + high) / 2;
  return likelihood(best.at / 100) >= likelihood(middle) ? best.at / 100 : middle;
};
