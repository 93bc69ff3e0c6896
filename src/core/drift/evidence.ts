import type { CauseLines } from './cause-lines.js';
import type { Scatter } from './scatter.js';
import { startConstants } from './start-constants.js';

/** One check in the window: where, what was read (aim, known corrections and accounted movements taken off), what it is blind to. */
export type Entry = {
  readonly at: number;
  readonly web_m: number;
  readonly value: readonly (number | null)[];
  /** Causes whose direction this check says nothing about, because an open movement of theirs is being followed. */
  readonly blind: readonly number[];
};

/** A level not quite known: since entry `from` a cause's direction may be off by a constant of this variance. */
export type Offset = { readonly from: number; readonly variance: number };

export type Candidate = {
  readonly cause: number;
  /** Index into the window of the first check that carries the movement. */
  readonly start: number;
  readonly shape: 'step' | 'ramp';
  /** Natural logarithm of weight × likelihood ratio. */
  readonly ln: number;
};

/** `ln_total`: ln of the summed evidence that something moved within the window, over causes, beginnings and shapes. */
export type Evidence = {
  readonly ln_total: number;
  readonly best: Candidate | null;
  /** Share of the evidence by cause, sums to 1. */
  readonly shares: readonly number[];
  readonly best_of: readonly (Candidate | null)[];
  readonly ramp_share: readonly number[];
};

/** Sizes looked for: sigmas of a step, sigmas a check of a ramp, and the weight of each; the weights sum to 1. */
const STEP_SMALL = 1.2;
const STEP_SMALL_WEIGHT = 0.25;
const STEP_LARGE = 3;
const STEP_LARGE_WEIGHT = 0.6;
const RAMP = 0.15;
const RAMP_WEIGHT = 0.15;
/** Beginnings this many checks back and more are looked at on every second check, and every third, each for its neighbours too. */
const COARSE = 20;
const COARSER = 40;
/** The scatter is never held to be known better than by this many readings: tails stay a little thick, and the largest movement stays in range. */
const MOST_FREEDOM = 150;
const FARTHEST = 1e6;
const RAMP_AT_LEAST = 4;
const START_OFFSET = 0.4;
const START_OFFSET_ODDS = 0.08;

/**
 * How strongly the last checks say that something moved, and what.
 *
 * For each cause, beginning and shape (step, ramp) the likelihood ratio against "nothing moved" is averaged over a normal prior of the
 * movement's size, and the averages are added up over beginnings (the Shiryaev–Roberts way of treating an unknown beginning: Pollak &
 * Siegmund; see DEVELOPERS.md). Without movement the sum grows by 1 a check on average whatever the number of stations and whatever was
 * left unread, so one threshold holds for every press. Readings of a check share the reference's scatter: they are weighed with the
 * covariance own + shared (Sherman–Morrison), a missing reading leaves the sums. `spacing_m` is the usual distance between checks.
 * A reading's scatter is itself estimated: `freedom` readings of evidence thicken the tails as in Student's t. A small constant offset
 * present since the run began (first-off set within the reading error) is allowed for: the ratio is against the better of the two.
 */
export const evidence = (
  lines: CauseLines,
  scatter: Scatter,
  readings: readonly Entry[],
  offsets: readonly (Offset | null)[],
  spacing_m: number,
): Evidence => {
  const constants = startConstants(lines, scatter, readings, offsets);
  const entries =
    constants === null
      ? readings
      : readings.map((e) => ({
          ...e,
          value: e.value.map((z, k) => (z === null ? null : z - (constants.expected[k] ?? 0))),
        }));
  const causes = lines.n + 2;
  const count = entries.length;
  const weighed = weighAll(lines, scatter, entries);
  const { score, information } = weighed;
  const distance = new Array<number>(count + 1).fill(0);
  const newest = entries[count - 1]?.web_m ?? 0;
  for (let t = 0; t < count; t++) distance[t] = (newest - (entries[t]?.web_m ?? 0)) / spacing_m;

  const sigma2 = scatter.pooled * scatter.pooled;
  const freedom = Math.min(MOST_FREEDOM, Math.max(8, scatter.freedom));
  const sums = new Array<number>(causes).fill(0);
  const ramps = new Array<number>(causes).fill(0);
  const bestOf: (Candidate | null)[] = [];
  let best: Candidate | null = null;
  const common = [lines.n, lines.n + 1].filter((d) => (offsets[d] ?? null) !== null);

  const told = new Array<boolean>(causes).fill(false);
  for (let q = 0; q < count * causes; q++) if ((information[q] ?? 0) > 0) told[q % causes] = true;
  const possible = told.reduce((sum, t, j) => sum + (t ? (lines.prior[j] ?? 0) : 0), 0);
  for (let j = 0; j < causes; j++) {
    bestOf.push(null);
    if (told[j] !== true || possible === 0) continue;
    const prior = (lines.prior[j] ?? 0) / possible;
    if (prior === 0) continue;
    const unit = j === lines.n + 1 ? sigma2 / (lines.far_m * lines.far_m) : sigma2;
    const offset = offsets[j] ?? null;
    const own = offset === null || common.includes(j) ? [] : [j];
    const nuisances = looseness(weighed, entries, offsets, [...own, ...common], lines.n);
    let all = 0;
    let known = 0;
    for (let t = count - 1; t >= 0; t--) {
      all += score[t * causes + j] ?? 0;
      known += information[t * causes + j] ?? 0;
    }
    if (known === 0) continue;
    const lost = offset === null ? (constants?.lost[j] ?? 0) : 0;
    let atStart = 1;
    if (offset === null) {
      const v = START_OFFSET * START_OFFSET * unit;
      atStart = Math.max(1, (1 + START_OFFSET_ODDS * ratio(all, known, v, freedom)) / (1 + START_OFFSET_ODDS));
    }
    const weight = prior / atStart;
    const cross0 = new Array<number>(nuisances.length).fill(0);
    const cross1 = new Array<number>(nuisances.length).fill(0);
    let a0 = 0;
    let b0 = 0;
    let a1 = 0;
    let b1 = 0;
    let b2 = 0;
    let top = 0;
    for (let t = count - 1; t >= 0; t--) {
      const c = score[t * causes + j] ?? 0;
      const i = information[t * causes + j] ?? 0;
      const s = distance[t] ?? 0;
      a0 += c;
      b0 += i;
      a1 += c * s;
      b1 += i * s;
      b2 += i * s * s;
      for (let q = 0; q < nuisances.length; q++) {
        const d = nuisances[q];
        if (d === undefined || t < d.first) continue;
        const x = crossing(weighed, lines.n, t, j, d.cause);
        cross0[q] = (cross0[q] ?? 0) + x;
        cross1[q] = (cross1[q] ?? 0) + x * s;
      }
      const age = count - 1 - t;
      const every = age < COARSE ? 1 : age < COARSER ? 2 : 3;
      if (b0 === 0 || (every > 1 && (entries[t]?.at ?? 0) % every !== 0)) continue;
      let num = a0;
      let info = b0 - (lost * b0 * b0) / known;
      if (nuisances.length > 0) {
        num -= dot(cross0, nuisances);
        info -= quadratic(cross0, nuisances);
      }
      info = Math.max(info, 0.02 * b0);
      const step =
        weight *
        every *
        (STEP_SMALL_WEIGHT * ratio(num, info, STEP_SMALL * STEP_SMALL * unit, freedom) +
          STEP_LARGE_WEIGHT * ratio(num, info, STEP_LARGE * STEP_LARGE * unit, freedom));
      sums[j] = (sums[j] ?? 0) + step;
      if (step > top) {
        top = step;
        bestOf[j] = { cause: j, start: t, shape: 'step', ln: Math.log(step) };
      }
      if (count - t < RAMP_AT_LEAST) continue;
      const s0 = t === 0 ? s + 1 : Math.max(s, Math.min(s + 2, distance[t - 1] ?? s + 1));
      num = s0 * a0 - a1;
      info = s0 * s0 * b0 - 2 * s0 * b1 + b2;
      if (info <= 0) continue;
      const whole = info;
      info -= (lost * (s0 * b0 - b1) ** 2) / known;
      if (nuisances.length > 0) {
        const cross = cross0.map((x, q) => s0 * x - (cross1[q] ?? 0));
        num -= dot(cross, nuisances);
        info -= quadratic(cross, nuisances);
      }
      info = Math.max(info, 0.02 * whole);
      const ramp = weight * every * RAMP_WEIGHT * ratio(num, info, RAMP * RAMP * unit, freedom);
      sums[j] = (sums[j] ?? 0) + ramp;
      ramps[j] = (ramps[j] ?? 0) + ramp;
      if (ramp > top) {
        top = ramp;
        bestOf[j] = { cause: j, start: t, shape: 'ramp', ln: Math.log(ramp) };
      }
    }
    const mine = bestOf[j] ?? null;
    if (mine !== null && (best === null || (sums[j] ?? 0) > (sums[best.cause] ?? 0))) best = mine;
  }
  const total = sums.reduce((a, b) => a + b, 0);
  return {
    ln_total: Math.log(total),
    best,
    shares: sums.map((s) => (total > 0 ? s / total : 0)),
    best_of: bestOf,
    ramp_share: ramps.map((r, j) => ((sums[j] ?? 0) > 0 ? r / (sums[j] ?? 1) : 0)),
  };
};

/** Likelihood ratio averaged over a size ~ N(0, variance), tails thickened for an estimated scatter. */
const ratio = (num: number, info: number, variance: number, freedom: number): number => {
  const grown = 1 + variance * info;
  const x = (num * num * variance) / grown;
  if (x < 0.5) return (1 + 0.5 * x + 0.125 * x * x) / Math.sqrt(grown);
  const exponent = 0.5 * freedom * Math.log1p(Math.min(x, FARTHEST) / freedom);
  return Math.exp(exponent) / Math.sqrt(grown);
};

/** Score and information of every cause at every check, and how the stations' scores go with the reference's and the web's. */
type Weighed = {
  readonly score: Float64Array;
  readonly information: Float64Array;
  readonly withReference: Float64Array;
  readonly withWeb: Float64Array;
};

/** A constant along a cause's direction, not quite known, that other scores must not be blamed for; one row of the inverse. */
type Loose = { readonly cause: number; readonly first: number; readonly mean: number; readonly row: readonly number[] };

/** The constants together: their best estimate and its covariance (information matrix of at most three, inverted). */
const looseness = (
  w: Weighed,
  entries: readonly Entry[],
  offsets: readonly (Offset | null)[],
  of: readonly number[],
  n: number,
): readonly Loose[] => {
  if (of.length === 0) return [];
  const causes = n + 2;
  const score = of.map(() => 0);
  const matrix = of.map((c, a) => of.map((_, b) => (a === b ? 1 / Math.max(offsets[c]?.variance ?? 0, 1e-12) : 0)));
  const first = of.map(() => entries.length);
  for (let t = entries.length - 1; t >= 0; t--) {
    const at = entries[t]?.at ?? 0;
    of.forEach((c, a) => {
      if (at < (offsets[c]?.from ?? 0)) return;
      first[a] = t;
      score[a] = (score[a] ?? 0) + (w.score[t * causes + c] ?? 0);
      of.forEach((d, b) => {
        const row = matrix[a];
        if (row === undefined || at < (offsets[d]?.from ?? 0)) return;
        row[b] = (row[b] ?? 0) + crossing(w, n, t, c, d);
      });
    });
  }
  const inverse = invert(matrix);
  return of.map((cause, a) => ({
    cause,
    first: first[a] ?? 0,
    mean: score.reduce((sum, s, b) => sum + s * (inverse[a]?.[b] ?? 0), 0),
    row: inverse[a] ?? [],
  }));
};

const dot = (cross: readonly number[], of: readonly Loose[]): number =>
  of.reduce((sum, d, q) => sum + d.mean * (cross[q] ?? 0), 0);

const quadratic = (cross: readonly number[], of: readonly Loose[]): number =>
  of.reduce((sum, d, q) => sum + (cross[q] ?? 0) * d.row.reduce((s, r, b) => s + r * (cross[b] ?? 0), 0), 0);

/** Inverse of a small positive definite matrix, Gauss–Jordan. */
const invert = (matrix: readonly (readonly number[])[]): readonly (readonly number[])[] => {
  const n = matrix.length;
  const m = matrix.map((row, a) => [...row, ...row.map((_, b) => (a === b ? 1 : 0))]);
  for (let p = 0; p < n; p++) {
    const pivotRow = m[p] ?? [];
    const pivot = pivotRow[p] ?? 1;
    const scaled = pivotRow.map((x) => x / pivot);
    m[p] = scaled;
    for (let r = 0; r < n; r++) {
      if (r === p) continue;
      const f = m[r]?.[p] ?? 0;
      m[r] = (m[r] ?? []).map((x, c) => x - f * (scaled[c] ?? 0));
    }
  }
  return m.map((row) => row.slice(n));
};

/** Information two causes share at one check; one of them is the other itself, the reference or the web. */
const crossing = (w: Weighed, n: number, t: number, j: number, d: number): number => {
  const causes = n + 2;
  if (j === d) return w.information[t * causes + j] ?? 0;
  if (d < n) return crossing(w, n, t, d, j);
  if (d === n) return w.withReference[t * causes + j] ?? 0;
  return w.withWeb[t * causes + j] ?? 0;
};

/** Room for the weighing of one window, used anew by every call and never read after it: typed arrays made per check are what costs. */
let room: Weighed = {
  score: new Float64Array(0),
  information: new Float64Array(0),
  withReference: new Float64Array(0),
  withWeb: new Float64Array(0),
};

const weighAll = (lines: CauseLines, scatter: Scatter, entries: readonly Entry[]): Weighed => {
  const size = entries.length * (lines.n + 2);
  if (room.score.length < size) {
    room = {
      score: new Float64Array(size),
      information: new Float64Array(size),
      withReference: new Float64Array(size),
      withWeb: new Float64Array(size),
    };
  }
  const all = room;
  for (const a of [all.score, all.information, all.withReference, all.withWeb]) a.fill(0, 0, size);
  entries.forEach((e, t) => {
    weigh(lines, scatter, e, all, t * (lines.n + 2));
  });
  return all;
};

/** One check, its blind directions projected out. */
const weigh = (lines: CauseLines, scatter: Scatter, entry: Entry, into: Weighed, at: number): void => {
  const n = lines.n;
  const blindReference = entry.blind.includes(n);
  const blindWeb = entry.blind.includes(n + 1);
  let sw = 0;
  let swz = 0;
  let swp = 0;
  let swpp = 0;
  let swpz = 0;
  for (let k = 0; k < n; k++) {
    const z = entry.value[k] ?? null;
    if (z === null || entry.blind.includes(k)) continue;
    const w = 1 / (scatter.own[k] ?? 1);
    const p = lines.path_m[k] ?? 0;
    sw += w;
    swz += w * z;
    swp += w * p;
    swpp += w * p * p;
    swpz += w * p * z;
  }
  if (sw === 0) return;
  const g = blindReference ? 1 / sw : 1 / (1 / scatter.shared + sw);
  const webInfo = swpp - g * swp * swp;
  const webScore = swpz - g * swp * swz;
  const tells = webInfo > 1e-9 * swpp;
  const h = blindWeb && tells ? 1 / webInfo : 0;
  const ones = swp - g * sw * swp;
  const left = blindReference ? 0 : 1 - g * sw;
  for (let k = 0; k < n; k++) {
    const z = entry.value[k] ?? null;
    if (z === null || entry.blind.includes(k)) continue;
    const w = 1 / (scatter.own[k] ?? 1);
    const v = w * ((lines.path_m[k] ?? 0) - g * swp);
    into.score[at + k] = w * (z - g * swz) - h * v * webScore;
    into.information[at + k] = Math.max(0, w - g * w * w - h * v * v);
    into.withReference[at + k] = blindReference ? 0 : -(w * left - h * v * ones);
    into.withWeb[at + k] = blindWeb ? 0 : v;
  }
  if (!blindReference) {
    into.score[at + n] = -(swz * left - h * ones * webScore);
    into.information[at + n] = Math.max(0, sw * left - h * ones * ones);
    into.withWeb[at + n] = blindWeb ? 0 : -ones;
  }
  if (!blindWeb) {
    into.score[at + n + 1] = webScore;
    into.information[at + n + 1] = tells ? webInfo : 0;
    into.withReference[at + n + 1] = blindReference ? 0 : -ones;
  }
};

/** Size of one candidate movement now, by weighted least squares shrunk toward none; mm (web: mm per m), slope per m of web. */
export const sizeOf = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  candidate: Candidate,
  spacing_m: number,
): { readonly mean: number; readonly sd: number; readonly slope: number } => {
  const causes = lines.n + 2;
  const { score, information } = weighAll(lines, scatter, entries);
  const newest = entries[entries.length - 1]?.web_m ?? 0;
  const first = entries[candidate.start]?.web_m ?? 0;
  const before = entries[candidate.start - 1]?.web_m ?? first - spacing_m;
  const s0 = Math.min((newest - before) / spacing_m, (newest - first) / spacing_m + 2);
  let num = 0;
  let info = 0;
  for (let t = candidate.start; t < entries.length; t++) {
    const e = entries[t];
    if (e === undefined) continue;
    const r = candidate.shape === 'ramp' ? s0 - (newest - e.web_m) / spacing_m : 1;
    num += r * (score[t * causes + candidate.cause] ?? 0);
    info += r * r * (information[t * causes + candidate.cause] ?? 0);
  }
  const sigma2 = scatter.pooled * scatter.pooled;
  const unit = candidate.cause === lines.n + 1 ? sigma2 / (lines.far_m * lines.far_m) : sigma2;
  const variance = (candidate.shape === 'ramp' ? 0.04 : 9) * unit;
  const mean = (num * variance) / (1 + info * variance);
  const sd = Math.sqrt(variance / (1 + info * variance));
  return candidate.shape === 'ramp'
    ? { mean: mean * s0, sd: sd * s0, slope: mean / spacing_m }
    : { mean, sd, slope: 0 };
};
