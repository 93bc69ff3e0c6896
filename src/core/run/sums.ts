/** Running sums of the readings of one station and axis, mm; `step_sum` adds up the differences from one reading to the next. */
export type Sums = {
  readonly n: number;
  readonly mean: number;
  readonly m2: number;
  readonly steps: number;
  readonly step_sum: number;
  readonly last: number | null;
};

export const NO_SUMS: Sums = { n: 0, mean: 0, m2: 0, steps: 0, step_sum: 0, last: null };

/** One more reading into the running mean and sum of squares (Welford 1962) and the moving range of two. */
export const addReading = (sums: Sums, mm: number): Sums => {
  const n = sums.n + 1;
  const off = mm - sums.mean;
  const mean = sums.mean + off / n;
  const step = sums.last === null ? null : Math.abs(mm - sums.last);
  return {
    n,
    mean,
    m2: sums.m2 + off * (mm - mean),
    steps: sums.steps + (step === null ? 0 : 1),
    step_sum: sums.step_sum + (step ?? 0),
    last: mm,
  };
};

/** Sample standard deviation, mm; null with fewer than two readings. */
export const sdOf = (sums: Sums): number | null => (sums.n < 2 ? null : Math.sqrt(sums.m2 / (sums.n - 1)));
