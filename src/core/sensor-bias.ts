import { tQuantile } from './spc/distributions.js';

/** The differences between loupe and sensor at one station and axis, keyed less sensor, mm: how many, their mean, their sum of squares about it. */
export type Differences = { readonly n: number; readonly mean: number; readonly m2: number };

/** What the loupe reads more than the sensor; null = too few pairs to say. */
export type LoupeBias = {
  /** Keyed readings that had a sensor check beside them. */
  readonly pairs: number;
  readonly mean_mm: number | null;
  /** 95 % interval of the mean. */
  readonly low_mm: number | null;
  readonly high_mm: number | null;
  /** Scatter of the single differences, 1 sigma: loupe and sensor together. */
  readonly sd_mm: number | null;
  /** They do not read alike: the interval leaves out 0, and the mean is one that the loupe could show. */
  readonly apart: boolean | null;
};

/** Fewest pairs that say anything. */
export const FEWEST_PAIRS = 5;

/**
 * Whether loupe and sensor read a station alike: the mean of the paired differences with its interval from Student's t (NIST/SEMATECH
 * e-Handbook 7.3.1.2). Neither is right by itself: a lasting difference is a matter for a gauge check, not for a knob.
 * Less than half a step of the loupe (`resolution_mm`) is rounding, however sure.
 * Example: differences 0.01, 0.02, 0.03, 0.02, 0.02 have mean 0.02, interval 0.0112 to 0.0288.
 */
export const loupeBias = ({ n: pairs, mean, m2 }: Differences, resolution_mm: number): LoupeBias => {
  if (pairs < FEWEST_PAIRS) return { pairs, mean_mm: null, low_mm: null, high_mm: null, sd_mm: null, apart: null };
  const sd = Math.sqrt(m2 / (pairs - 1));
  const half = (tQuantile(0.975, pairs - 1) * sd) / Math.sqrt(pairs);
  const apart = Math.abs(mean) > half && Math.abs(mean) >= resolution_mm / 2;
  return { pairs, mean_mm: mean, low_mm: mean - half, high_mm: mean + half, sd_mm: sd, apart };
};

/** Of the sensor checks, the one nearest on the web to `at_m`; null = none within `within_m`. */
export const checkBeside = <C extends { readonly web_m: number; readonly sensor: boolean }>(
  checks: readonly C[],
  at_m: number,
  within_m: number,
): C | null => {
  let best: C | null = null;
  for (const check of checks)
    if (check.sensor && (best === null || Math.abs(check.web_m - at_m) < Math.abs(best.web_m - at_m))) best = check;
  return best === null || Math.abs(best.web_m - at_m) > within_m ? null : best;
};
