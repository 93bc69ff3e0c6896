/**
 * Running sums of one quantity over the repeats of a window: eight numbers (n, first, last, min, max, Σd, Σd², Σd·(d of the one before)), then, when
 * more than one mark a repeat is read, how many values and their sum for each place in the repeat. They stand in a longer list of numbers from
 * `base` on, because one list is copied for every repeat of every station. Deviations d are from the first value: nothing is lost to cancellation.
 */
export type TallyAt = { readonly base: number; readonly places: number };

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

const CORE = 8;

/** How many numbers a tally takes. */
export const tallyLength = (places: number): number => CORE + (places > 1 ? 2 * places : 0);

/** Adds one value, at its place in the repeat, to the tally in a list that the caller has just made. */
export const addToTally = (list: number[], { base, places }: TallyAt, value: number, place: number): void => {
  const n = list[base] ?? 0;
  if (n === 0) {
    list[base + 1] = value;
    list[base + 3] = value;
    list[base + 4] = value;
  } else {
    const first = list[base + 1] ?? 0;
    const d = value - first;
    if (value < (list[base + 3] ?? 0)) list[base + 3] = value;
    if (value > (list[base + 4] ?? 0)) list[base + 4] = value;
    list[base + 5] = (list[base + 5] ?? 0) + d;
    list[base + 6] = (list[base + 6] ?? 0) + d * d;
    list[base + 7] = (list[base + 7] ?? 0) + d * ((list[base + 2] ?? 0) - first);
  }
  list[base] = n + 1;
  list[base + 2] = value;
  if (places <= 1) return;
  const at = base + CORE + place;
  list[at] = (list[at] ?? 0) + 1;
  list[at + places] = (list[at + places] ?? 0) + value - (list[base + 1] ?? 0);
};

/**
 * Mean, spread and the rest. With several places a repeat the mean is the mean of the places' means (a place seen less often does not tilt it)
 * and the spread is that within the places. The standard error is spread/√n × √((1+r)/(1−r)) with r the lag-1 correlation, 0 to 0.95: values of a
 * first-order autoregression count for fewer (Bayley and Hammersley 1946, "The effective number of independent observations in an
 * autocorrelated time series"; from memory). Example: 0.010, 0.020, 0.030, 0.040 have mean 0.025 and spread 0.01291.
 */
export const sayTally = (list: readonly number[], { base, places }: TallyAt): TallySaid => {
  const [n = 0, first = 0, last = 0, min = 0, max = 0, sum = 0, squares = 0, lagged = 0] = list.slice(
    base,
    base + CORE,
  );
  if (n === 0) return NOTHING_SAID;
  const plain = sum / n;
  const total = Math.max(0, squares - sum * plain);
  const counts = places > 1 ? list.slice(base + CORE, base + CORE + places) : [];
  const sums = places > 1 ? list.slice(base + CORE + places, base + CORE + 2 * places) : [];
  const seen = counts.filter((c) => c > 0).length;
  const whole = seen > 0 && seen === places;
  const means = whole ? sums.map((s, i) => s / (counts[i] ?? 1)) : [];
  const mean = whole ? means.reduce((a, b) => a + b, 0) / means.length : plain;
  const between =
    counts.reduce((so, c, i) => so + (c > 0 ? (sums[i] ?? 0) ** 2 / c : 0), 0) - (seen > 0 ? sum * plain : 0);
  const free = n - Math.max(1, seen);
  const within = Math.max(0, total - Math.max(0, between));
  const spread = n < 2 ? null : free > 0 ? Math.sqrt(within / free) : Math.sqrt(total / (n - 1));
  const products = lagged - plain * (2 * sum - (last - first)) + (n - 1) * plain * plain;
  const lag1 = n < 8 || total <= 1e-18 ? null : products / total;
  const r = Math.min(0.95, Math.max(0, lag1 ?? 0));
  const se = spread === null ? null : (spread / Math.sqrt(n)) * Math.sqrt((1 + r) / (1 - r));
  return { n, mean: first + mean, spread, min, max, lag1, se, run_out: runOut(means, spread, n) };
};

/** What no values say. */
export const NOTHING_SAID: TallySaid = {
  n: 0,
  mean: null,
  spread: null,
  min: null,
  max: null,
  lag1: null,
  se: null,
  run_out: null,
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
