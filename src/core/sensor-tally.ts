/**
 * Running sums of one quantity over the repeats of a window, by place in the repeat, from which mean, spread, range, run-out and lag-1
 * correlation are told. Plain numbers only. Deviations are taken from the first value, so nothing is lost to cancellation.
 */
export type Tally = {
  readonly n: number;
  readonly first: number;
  readonly last: number;
  readonly min: number;
  readonly max: number;
  /** Σd, Σd², Σd·d of the one before; d = value − first. */
  readonly sum: number;
  readonly squares: number;
  readonly lagged: number;
  /** By place in the repeat: how many, Σd. Empty when one mark a repeat is read. */
  readonly counts: readonly number[];
  readonly sums: readonly number[];
};

/** What a tally says; null = too few values to say. */
export type TallySaid = {
  readonly n: number;
  readonly mean: number | null;
  /** 1 sigma from repeat to repeat, run-out taken out; null below 2 values. */
  readonly spread: number | null;
  readonly min: number | null;
  readonly max: number | null;
  /** Correlation of one repeat with the next; null below 8 values or when all are equal. */
  readonly lag1: number | null;
  /** Standard error of the mean, widened for values that hang together. */
  readonly se: number | null;
  /** Amplitude of what comes back once a repeat; null when not told from scatter, or fewer than 3 places a repeat are read. */
  readonly run_out: number | null;
};

export const emptyTally = (places: number): Tally => ({
  n: 0,
  first: 0,
  last: 0,
  min: 0,
  max: 0,
  sum: 0,
  squares: 0,
  lagged: 0,
  counts: places > 1 ? Array.from({ length: places }, () => 0) : [],
  sums: places > 1 ? Array.from({ length: places }, () => 0) : [],
});

/** One more value, at its place in the repeat. */
export const addToTally = (tally: Tally, value: number, place: number): Tally => {
  const first = tally.n === 0 ? value : tally.first;
  const d = value - first;
  return {
    n: tally.n + 1,
    first,
    last: value,
    min: tally.n === 0 ? value : Math.min(tally.min, value),
    max: tally.n === 0 ? value : Math.max(tally.max, value),
    sum: tally.sum + d,
    squares: tally.squares + d * d,
    lagged: tally.n === 0 ? 0 : tally.lagged + d * (tally.last - first),
    counts: tally.counts.length === 0 ? tally.counts : tally.counts.with(place, (tally.counts[place] ?? 0) + 1),
    sums: tally.sums.length === 0 ? tally.sums : tally.sums.with(place, (tally.sums[place] ?? 0) + d),
  };
};

/**
 * Mean, spread and the rest. With several places a repeat the mean is the mean of the places' means (a place seen less often does not tilt it)
 * and the spread is that within the places. The standard error is spread/√n × √((1+r)/(1−r)) with r the lag-1 correlation, 0 to 0.95: values of a
 * first-order autoregression count for fewer (Bayley and Hammersley 1946, "The effective number of independent observations in an
 * autocorrelated time series"; from memory). Example: 0.010, 0.020, 0.030, 0.040 have mean 0.025 and spread 0.01291.
 */
export const sayTally = (tally: Tally): TallySaid => {
  const { n } = tally;
  if (n === 0) return { n, mean: null, spread: null, min: null, max: null, lag1: null, se: null, run_out: null };
  const plain = tally.sum / n;
  const total = Math.max(0, tally.squares - tally.sum * plain);
  const seen = tally.counts.filter((c) => c > 0).length;
  const whole = seen > 0 && seen === tally.counts.length;
  const means = whole ? tally.sums.map((s, i) => s / (tally.counts[i] ?? 1)) : [];
  const mean = whole ? means.reduce((a, b) => a + b, 0) / means.length : plain;
  const between =
    tally.counts.reduce((sum, c, i) => sum + (c > 0 ? (tally.sums[i] ?? 0) ** 2 / c : 0), 0) -
    (seen > 0 ? tally.sum * plain : 0);
  const free = n - Math.max(1, seen);
  const within = Math.max(0, total - Math.max(0, between));
  const spread = n < 2 ? null : free > 0 ? Math.sqrt(within / free) : Math.sqrt(total / (n - 1));
  const lag1 = lagOf(tally, plain, total);
  const r = Math.min(0.95, Math.max(0, lag1 ?? 0));
  const se = spread === null ? null : (spread / Math.sqrt(n)) * Math.sqrt((1 + r) / (1 - r));
  return {
    n,
    mean: tally.first + mean,
    spread,
    min: tally.min,
    max: tally.max,
    lag1,
    se,
    run_out: runOut(means, spread, n),
  };
};

const lagOf = (tally: Tally, mean: number, total: number): number | null => {
  const { n } = tally;
  if (n < 8 || total <= 1e-18) return null;
  const lastD = tally.last - tally.first;
  const products = tally.lagged - mean * (2 * tally.sum - lastD) + (n - 1) * mean * mean;
  return products / total;
};

/** First harmonic over the places of the repeat, when it stands out of the scatter by three standard errors. */
const runOut = (means: readonly number[], spread: number | null, n: number): number | null => {
  const places = means.length;
  if (places < 3 || spread === null) return null;
  let re = 0;
  let im = 0;
  for (const [k, m] of means.entries()) {
    re += m * Math.cos((2 * Math.PI * k) / places);
    im += m * Math.sin((2 * Math.PI * k) / places);
  }
  const amplitude = (2 * Math.hypot(re, im)) / places;
  return amplitude > 3 * spread * Math.sqrt(2 / n) ? amplitude : null;
};
