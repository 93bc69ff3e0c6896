import { finite } from './finite.js';
import { signalOf } from './method.js';

/**
 * Flaw counts watched for a lasting rise (or fall) of the rate, whatever number of labels was looked at each time.
 * How: the log of how much better the changed rate explains a count than the steady one, summed and never let below 0:
 * S <- max(0, S + count ln(r1 / r0) - (r1 - r0) exposure). A sum above `decision` is a signal; since when is the sample
 * after the last 0. Equal to the tabular count CUSUM with reference (r1 - r0) / ln(r1 / r0) per unit of exposure.
 * In: `rate` steady and `changed` (flaws a unit of exposure, above 0), decision (above 0); a sample is count and
 * exposure. For a fall, `changed` lies below `rate`. Out: the sum, and since which sample it has been building.
 * Errors: anything outside throws.
 * Source: J. M. Lucas (1985), Counted data CUSUM's, Technometrics 27(2), 129-144; log-likelihood form after
 * G. V. Moustakides (1986). Example: rate 1, changed 2, counts 0, 3, 4 with exposure 1: sums 0, 1.0794, 2.8520.
 */
export type PoissonCusumConfig = { readonly rate: number; readonly changed: number; readonly decision: number };

export type ExposedCount = { readonly count: number; readonly exposure: number };

export type PoissonCusumState = { readonly seen: number; readonly sum: number; readonly since: number | null };

export type PoissonCusumPoint = {
  readonly statistic: number;
  readonly upper: number;
  /** The first sample of the rise now building, counted from 1; null while the sum is 0. */
  readonly since: number | null;
};

export const poissonCusum = {
  initial: (config: PoissonCusumConfig): PoissonCusumState => {
    checkPoissonCusum(config);
    return { seen: 0, sum: 0, since: null };
  },
  step: (config: PoissonCusumConfig, state: PoissonCusumState, sample: ExposedCount) => {
    const { count, exposure } = sample;
    finite(count, 'count');
    if (!Number.isInteger(count) || count < 0) throw new RangeError(`a count must be 0 or more, got ${count}`);
    if (!(exposure > 0) || !Number.isFinite(exposure))
      throw new RangeError(`exposure must be above 0, got ${exposure}`);
    const seen = state.seen + 1;
    const gain = count * Math.log(config.changed / config.rate) - (config.changed - config.rate) * exposure;
    const sum = Math.max(0, state.sum + gain);
    const since = sum === 0 ? null : (state.since ?? seen);
    const next: PoissonCusumState = { seen, sum, since };
    const point: PoissonCusumPoint = { statistic: sum, upper: config.decision, since };
    return { state: next, point, signal: signalOf(sum > config.decision ? ['beyond-limits'] : []) };
  },
};

/** Refuses rates and decision values that make no chart. */
export const checkPoissonCusum = ({ rate, changed, decision }: PoissonCusumConfig): void => {
  if (!(rate > 0) || !(changed > 0) || rate === changed) {
    throw new RangeError(`two different rates above 0 are needed, got ${rate} and ${changed}`);
  }
  if (!(decision > 0)) throw new RangeError(`the decision value must be above 0, got ${decision}`);
};
