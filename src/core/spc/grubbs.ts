import { fail, ok, type Result } from '../result.js';
import { tQuantile } from './distributions.js';
import { percentile } from './percentile.js';
import { summary } from './summary.js';

/**
 * Is the most extreme reading too far from the rest to belong to them (a slip of the loupe, a misread digit)?
 * How: distance of the extreme reading from the mean in standard deviations, against the value it exceeds by chance
 * with probability alpha. Beside it the distance from the median, times 0.6745 and over the median
 * absolute deviation, which one wild reading cannot hide by inflating the scatter.
 * In: readings in any unit; `side` max, min or both. Out: no unit; the place of the reading, counted from 1.
 * Too few: a refusal below 3 readings. Errors: no scatter is a refusal.
 * Source: F. E. Grubbs (1969), Technometrics 11, 1-21; NIST/SEMATECH e-Handbook 1.3.5.17 (modified z score of
 * B. Iglewicz and D. C. Hoaglin, 1993, with its factor 0.6745).
 * Example: the uranium example (8 readings, 245.57 the largest) gives 2.4688 against 2.032.
 */
export type Grubbs = {
  readonly i: number;
  readonly value: number;
  readonly statistic: number;
  readonly critical: number;
  readonly outlier: boolean;
  /** Null when more than half of the readings are equal. */
  readonly robustZ: number | null;
};

export type GrubbsSettings = { readonly side?: 'max' | 'min' | 'both'; readonly alpha?: number };

export const grubbs = (values: readonly number[], settings: GrubbsSettings = {}): Result<Grubbs> => {
  const { side = 'both', alpha = 0.05 } = settings;
  const n = values.length;
  if (n < 3) return fail(`an outlier test needs at least 3 readings, got ${n}`);
  const all = summary(values);
  if (!all.ok) return all;
  const { mean, sd, min, max } = all.value;
  if (!(sd > 0)) return fail(`all ${n} readings are ${mean}: there is no scatter to judge an outlier by`);
  const value = side === 'max' ? max : side === 'min' ? min : max - mean >= mean - min ? max : min;
  const statistic = Math.abs(value - mean) / sd;
  const t = tQuantile(1 - alpha / (side === 'both' ? 2 * n : n), n - 2);
  const critical = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  const robustZ = robust(values, value);
  return ok({ i: values.indexOf(value) + 1, value, statistic, critical, outlier: statistic > critical, robustZ });
};

const robust = (values: readonly number[], value: number): number | null => {
  const median = percentile(values, 0.5, 'R7');
  if (!median.ok) return null;
  const deviation = percentile(
    values.map((one) => Math.abs(one - median.value)),
    0.5,
    'R7',
  );
  return deviation.ok && deviation.value > 0 ? (0.6745 * (value - median.value)) / deviation.value : null;
};
