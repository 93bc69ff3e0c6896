/**
 * How much readings scatter from check to check, learned on the job, and how much of it the readings share because they are all read
 * against the same reference.
 *
 * Each reading is compared with the mean of up to three readings of its station before it, so a level that is off, or one step, hardly
 * counts; the difference is scaled to the variance of one reading. The job's belief enters as so many checks of evidence and loses its
 * weight when the data contradict it. A check is counted for good only some checks later, so that readings since found to belong to a
 * movement can be left out; until then it counts with its extremes cut. One scale for all stations first; each station's own as
 * evidence comes. The shared part is the mean product of the differences of two stations at the same check.
 * Sample at a time, pooling as by Quesenberry, "SPC Q charts for start-up processes and short or long runs", J. Quality Technology 23
 * (1991), is the idea taken; the estimator is ours. In mm.
 */
export type ScatterState = {
  readonly squares: readonly number[];
  readonly counts: readonly number[];
  readonly products: number;
  readonly productCount: number;
  readonly recent: readonly (readonly number[])[];
  readonly pending: readonly { readonly at: number; readonly difference: readonly (number | null)[] }[];
};

/** `own`: variance of a station's readings that is its own; `shared`: the variance all readings have in common; evidence in readings. */
export type Scatter = {
  readonly own: readonly number[];
  readonly shared: number;
  readonly sigma: readonly number[];
  readonly pooled: number;
  readonly freedom: number;
};

const BACK = 3;
const WAIT = 4;
/** What one such difference is worth against an independent reading: autocorrelations −1/12, −1/6, −1/4 (von Neumann-type ratio). */
const WORTH = 0.84;
const SHARE_BELIEVED = 0.15;
const STATION_WORTH = 40;
const CUT_FINAL = 10;
const CUT_PENDING = 6;

export const initialScatter = (stations: number): ScatterState => ({
  squares: Array.from({ length: stations }, () => 0),
  counts: Array.from({ length: stations }, () => 0),
  products: 0,
  productCount: 0,
  recent: Array.from({ length: stations }, () => []),
  pending: [],
});

export type ScatterBelief = { readonly sigma: number; readonly worth_checks: number; readonly floor: number };

/** Takes one check: `value` without known corrections; where `broken`, the station starts anew (a correction came between). */
export const stepScatter = (
  state: ScatterState,
  known: Scatter,
  at: number,
  value: readonly (number | null)[],
  broken: readonly boolean[],
): ScatterState => {
  const recent = state.recent.map((r, k) => (broken[k] === true ? [] : r));
  const difference = value.map((z, k) => {
    const before = recent[k] ?? [];
    if (z === null || before.length === 0) return null;
    const mean = before.reduce((a, b) => a + b, 0) / before.length;
    return (z - mean) / Math.sqrt(1 + 1 / before.length);
  });
  const next: ScatterState = {
    ...state,
    recent: recent.map((r, k) => {
      const z = value[k] ?? null;
      return z === null ? r : [...r, z].slice(-BACK);
    }),
    pending: [...state.pending, { at, difference }],
  };
  const oldest = next.pending[0];
  if (oldest === undefined || next.pending.length <= WAIT) return next;
  return { ...count(next, oldest.difference, known, CUT_FINAL), pending: next.pending.slice(1) };
};

/** Leaves out what was pending from entry `from` on: it belongs to a movement. */
export const excuse = (state: ScatterState, from: number): ScatterState => ({
  ...state,
  pending: state.pending.filter((p) => p.at < from),
  recent: state.recent.map(() => []),
});

/** The scatter as known now. */
export const scatterOf = (state: ScatterState, belief: ScatterBelief): Scatter => {
  const settled = estimate(state, belief, state);
  if (state.pending.length === 0) return settled;
  let all = state;
  for (const p of state.pending) all = count(all, p.difference, settled, CUT_PENDING);
  return estimate(all, belief, state);
};

/** `own`: what each station's own scatter is learned from; what is pending may be a movement of that station. */
const estimate = (state: ScatterState, belief: ScatterBelief, own: ScatterState): Scatter => {
  const believed = belief.sigma * belief.sigma;
  const floor = belief.floor * belief.floor;
  const freedom = WORTH * state.counts.reduce((a, b) => a + b, 0);
  const squares = WORTH * state.squares.reduce((a, b) => a + b, 0);
  const readings = belief.worth_checks * 2;
  let worth = readings;
  if (freedom > 0) {
    const contrast = Math.log(Math.max(squares / freedom, 1e-4 * believed) / believed);
    worth = readings / (1 + (contrast * contrast * readings) / 4);
  }
  const pooled = Math.max(floor, (worth * believed + squares) / (worth + freedom));
  const shared = Math.min(
    0.8 * pooled,
    Math.max(
      0.02 * pooled,
      (belief.worth_checks * SHARE_BELIEVED * pooled + state.products) / (belief.worth_checks + state.productCount),
    ),
  );
  const total = own.squares.map((s, k) =>
    Math.max(floor, (STATION_WORTH * pooled + s) / (STATION_WORTH + (state.counts[k] ?? 0))),
  );
  return {
    own: total.map((t) => Math.max(0.15 * t, t - shared)),
    shared,
    sigma: total.map(Math.sqrt),
    pooled: Math.sqrt(pooled),
    freedom: worth + freedom,
  };
};

const count = (
  state: ScatterState,
  difference: readonly (number | null)[],
  now: Scatter,
  cut: number,
): ScatterState => {
  const squares = [...state.squares];
  const counts = [...state.counts];
  let sum = 0;
  let own = 0;
  let m = 0;
  let expected = 0;
  difference.forEach((d, k) => {
    if (d === null) return;
    const s = now.sigma[k] ?? now.pooled;
    squares[k] = (squares[k] ?? 0) + Math.min(d * d, cut * s * s);
    counts[k] = (counts[k] ?? 0) + 1;
    sum += d;
    own += d * d;
    m += 1;
    expected += now.own[k] ?? s * s;
  });
  if (m < 2) return { ...state, squares, counts };
  const product = (sum * sum - own) / (m * (m - 1));
  const most = (cut * (expected + m * m * now.shared)) / (m * m);
  return {
    ...state,
    squares,
    counts,
    products: state.products + WORTH * Math.min(product, most),
    productCount: state.productCount + WORTH,
  };
};
