import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import type { Axis } from './axis.js';

/** A check as the run's trail keeps it: values by station place, null = not read. */
export type TrailCheck = {
  readonly web_m: number;
  readonly sensor: boolean;
  readonly along: readonly (number | null)[];
  readonly across: readonly (number | null)[];
};

/** What the loupe reads more than the sensor; null = too few pairs to say. */
export type LoupeBias = {
  /** Keyed checks that had a sensor check beside them. */
  readonly pairs: number;
  readonly mean_mm: number | null;
  /** 95 % interval of the mean; when it leaves out 0 the two do not read alike. */
  readonly low_mm: number | null;
  readonly high_mm: number | null;
  /** Scatter of the single differences, 1 sigma: loupe and sensor together. */
  readonly sd_mm: number | null;
};

export type BiasConfig = {
  /** Sample place less sensor place on the web path, m: a keyed sample of counter W was under the sensor when the counter stood at W less this. */
  readonly lag_m: number;
  /** Farthest apart on the web that the two may be. */
  readonly within_m: number;
};

/** Fewest pairs that say anything. */
export const FEWEST_PAIRS = 5;

/**
 * Whether loupe and sensor read a station alike. Each keyed reading is set beside the sensor check nearest on the web, and the mean of the
 * differences (keyed less sensor) is given with its interval from Student's t (paired differences; NIST/SEMATECH e-Handbook 7.3.1.2). Neither is
 * right by itself: a lasting difference is a matter for a gauge check, not for a knob.
 * Example: differences 0.01, 0.02, 0.03, 0.02, 0.02 have mean 0.02, interval 0.0112 to 0.0288.
 */
export const loupeBias = (trail: readonly TrailCheck[], station: number, axis: Axis, config: BiasConfig): LoupeBias => {
  const sensor = trail.filter((c) => c.sensor && (c[axis][station] ?? null) !== null);
  const differences = trail.flatMap((keyed) => {
    const read = keyed.sensor ? null : (keyed[axis][station] ?? null);
    if (read === null) return [];
    const at_m = keyed.web_m - config.lag_m;
    let best: TrailCheck | null = null;
    for (const check of sensor)
      if (best === null || Math.abs(check.web_m - at_m) < Math.abs(best.web_m - at_m)) best = check;
    const beside =
      best === null || Math.abs(best.web_m - at_m) > config.within_m ? null : (best[axis][station] ?? null);
    return beside === null ? [] : [read - beside];
  });
  const pairs = differences.length;
  if (pairs < FEWEST_PAIRS) return { pairs, mean_mm: null, low_mm: null, high_mm: null, sd_mm: null };
  const mean = differences.reduce((a, b) => a + b, 0) / pairs;
  const sd = Math.sqrt(differences.reduce((sum, d) => sum + (d - mean) ** 2, 0) / (pairs - 1));
  const half = (tQuantile(0.975, pairs - 1) * sd) / Math.sqrt(pairs);
  return { pairs, mean_mm: mean, low_mm: mean - half, high_mm: mean + half, sd_mm: sd };
};
