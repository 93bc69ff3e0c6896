import { GOING, type LevelFilter, SETTLING } from '../drift/level-filter.js';
import { ADDED, SETTLING_KEEPS } from '../drift/ways.js';

/**
 * Where one station may stand, account by account of the estimate: now and at the next check if nothing is turned. Weights sum to 1; mm
 * and mm². What may newly begin before the next check is left out: it is the same whatever is turned now.
 */
export type Standing = {
  readonly weight: readonly number[];
  readonly now: readonly number[];
  readonly nowVariance: readonly number[];
  readonly next: readonly number[];
  readonly nextVariance: readonly number[];
};

/**
 * `sigma`: scatter of a reading; `steps`: usual check distances to the next check; `shift`: known corrections, those that no sample shows yet
 * among them; `loose`: variance of what these really gave.
 */
export const standingOf = (f: LevelFilter, sigma: number, steps: number, shift: number, loose: number): Standing => {
  const fadingReach = (1 - SETTLING_KEEPS ** steps) / (1 - SETTLING_KEEPS);
  const next: number[] = [];
  const nextVariance: number[] = [];
  for (let i = 0; i < f.kind.length; i++) {
    const kind = f.kind[i] ?? 0;
    const reach = kind < GOING ? 0 : kind === SETTLING ? fadingReach : steps;
    next.push((f.level[i] ?? 0) + shift + reach * (f.slope[i] ?? 0));
    nextVariance.push(
      (f.variance[i] ?? 0) +
        loose +
        (ADDED[kind] ?? 0) * sigma * sigma * steps +
        2 * reach * (f.slopeWith[i] ?? 0) +
        reach * reach * (f.slopeVariance[i] ?? 0),
    );
  }
  return {
    weight: f.weight,
    now: f.level.map((l) => l + shift),
    nowVariance: f.variance.map((v) => v + loose),
    next,
    nextVariance,
  };
};

/** A station known to stand at `mean` ± `sd`, and to stay there. */
export const standingAt = (mean: number, sd: number): Standing => ({
  weight: [1],
  now: [mean],
  nowVariance: [sd * sd],
  next: [mean],
  nextVariance: [sd * sd],
});

/** Mean over now and the next check, and the standard deviation of where it stands now. */
export const meanOf = (s: Standing): { readonly middle: number; readonly now: number; readonly sd: number } => {
  let now = 0;
  let next = 0;
  for (let i = 0; i < s.weight.length; i++) {
    now += (s.weight[i] ?? 0) * (s.now[i] ?? 0);
    next += (s.weight[i] ?? 0) * (s.next[i] ?? 0);
  }
  let variance = 0;
  for (let i = 0; i < s.weight.length; i++)
    variance += (s.weight[i] ?? 0) * ((s.nowVariance[i] ?? 0) + ((s.now[i] ?? 0) - now) ** 2);
  return { middle: (now + next) / 2, now, sd: Math.sqrt(variance) };
};

/** The same of the accounts that say much what the likeliest says: where they disagree, the mean of all is nowhere. */
export const likeliestMiddle = (s: Standing, apart: number): number => {
  let top = 0;
  for (let i = 1; i < s.weight.length; i++) if ((s.weight[i] ?? 0) > (s.weight[top] ?? 0)) top = i;
  const at = s.now[top] ?? 0;
  let total = 0;
  let sum = 0;
  for (let i = 0; i < s.weight.length; i++) {
    if (Math.abs((s.now[i] ?? 0) - at) > apart) continue;
    total += s.weight[i] ?? 0;
    sum += ((s.weight[i] ?? 0) * ((s.now[i] ?? 0) + (s.next[i] ?? 0))) / 2;
  }
  return sum / total;
};
