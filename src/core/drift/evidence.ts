import type { Candidate } from './candidate.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry, Gone, Offset } from './entry.js';
import { type Loose, looseConstants, takenFromInformation, takenFromScore } from './loose-constants.js';
import type { Scatter } from './scatter.js';
import { startConstants } from './start-constants.js';
import { crossing, type Weighed, weighAll } from './weigh.js';

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
/** Beginnings this many checks back and more are looked at on every second check, and every third, each for its neighbours too; of a ramp on every second always. */
const COARSE = 14;
const COARSER = 32;
/** The scatter is never held to be known better than by this many readings: tails stay a little thick, and the largest movement stays in range. */
const MOST_FREEDOM = 150;
const FARTHEST = 1e6;
const RAMP_AT_LEAST = 4;
const START_OFFSET = 0.4;
const START_OFFSET_ODDS = 0.08;
/** Sigmas; four times the typical one. */
const START_OFFSET_MOST = 1.6;

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
  forOffsets: boolean,
  gone: Gone | null,
): Evidence => {
  const constants = forOffsets ? startConstants(lines, scatter, readings, offsets) : null;
  const entries =
    constants === null
      ? readings
      : readings.map((e) => ({
          ...e,
          value: e.value.map((z, k) => (z === null ? null : z - (constants.expected[k] ?? 0))),
        }));
  const causes = lines.n + 2;
  const count = entries.length;
  const common = [lines.n, lines.n + 1].filter((d) => (offsets[d] ?? null) !== null);
  const weighed = weighAll(lines, scatter, entries, common.length > 0);
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

  const alls = new Array<number>(causes).fill(0);
  const knowns = new Array<number>(causes).fill(0);
  for (let t = 0, q = 0; t < count; t++) {
    for (let j = 0; j < causes; j++, q++) {
      alls[j] = (alls[j] ?? 0) + (score[q] ?? 0);
      knowns[j] = (knowns[j] ?? 0) + (information[q] ?? 0);
    }
  }
  const possible = knowns.reduce((sum, known, j) => sum + (known > 0 ? (lines.prior[j] ?? 0) : 0), 0);
  for (let j = 0; j < causes; j++) {
    bestOf.push(null);
    const all = alls[j] ?? 0;
    const known = knowns[j] ?? 0;
    if (known === 0 || possible === 0) continue;
    const prior = (lines.prior[j] ?? 0) / possible;
    if (prior === 0) continue;
    const unit = j === lines.n + 1 ? sigma2 / (lines.far_m * lines.far_m) : sigma2;
    const offset = offsets[j] ?? null;
    const own = offset === null || common.includes(j) ? [] : [j];
    const nuisances = looseConstants(weighed, entries, offsets, [...own, ...common], lines.n);
    const lost = offset === null ? (constants?.lost[j] ?? 0) : 0;
    let atStart = 1;
    if (offset === null) {
      const v = START_OFFSET * START_OFFSET * unit;
      // An offset from the start is small: what is far more than that is no offset, however well a heavy tail would take it.
      const everAll = all + (gone?.score[j] ?? 0);
      const everKnown = known + (gone?.information[j] ?? 0);
      const tamed = Math.min(
        1,
        (START_OFFSET_MOST * Math.sqrt(unit) * everKnown) / Math.max(Math.abs(everAll), 1e-300),
      );
      const offsetToo = START_OFFSET_ODDS * ratio(everAll * tamed, everKnown, v, freedom);
      atStart = Math.max(1, (1 + offsetToo) / (1 + START_OFFSET_ODDS));
    }
    const window: Window = {
      weighed,
      entries,
      distance,
      cause: j,
      n: lines.n,
      known,
      lost,
      weight: prior / atStart,
      unit,
      freedom,
    };
    const { sum, rampSum, top, start, rampIsTop } = overBeginnings(window, nuisances);
    sums[j] = sum;
    ramps[j] = rampSum;
    if (top === 0) continue;
    const mine: Candidate = { cause: j, start, shape: rampIsTop ? 'ramp' : 'step', ln: Math.log(top) };
    bestOf[j] = mine;
    if (best === null || sum > (sums[best.cause] ?? 0)) best = mine;
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

/** One cause over the window. `lost`: share of the information that offsets from the start take; `weight`: of the cause. */
type Window = {
  readonly weighed: Weighed;
  readonly entries: readonly Entry[];
  readonly distance: readonly number[];
  readonly cause: number;
  readonly n: number;
  readonly known: number;
  readonly lost: number;
  readonly weight: number;
  readonly unit: number;
  readonly freedom: number;
};

type Scanned = {
  readonly sum: number;
  readonly rampSum: number;
  readonly top: number;
  readonly start: number;
  readonly rampIsTop: boolean;
};

/** Adds up the evidence of one cause over beginnings and shapes. */
const overBeginnings = (of: Window, nuisances: readonly Loose[]): Scanned => {
  const { weighed, entries, distance, cause, n, known, lost, weight, unit, freedom } = of;
  const { score, information } = weighed;
  const causes = n + 2;
  const count = entries.length;
  const cross0 = new Array<number>(nuisances.length).fill(0);
  const cross1 = new Array<number>(nuisances.length).fill(0);
  let a0 = 0;
  let b0 = 0;
  let a1 = 0;
  let b1 = 0;
  let b2 = 0;
  let top = 0;
  let start = 0;
  let rampIsTop = false;
  let sum = 0;
  let rampSum = 0;
  for (let t = count - 1; t >= 0; t--) {
    const c = score[t * causes + cause] ?? 0;
    const i = information[t * causes + cause] ?? 0;
    const s = distance[t] ?? 0;
    a0 += c;
    b0 += i;
    a1 += c * s;
    b1 += i * s;
    b2 += i * s * s;
    for (let q = 0; q < nuisances.length; q++) {
      const d = nuisances[q];
      if (d === undefined || t < d.first) continue;
      const x = crossing(weighed, n, t, cause, d.cause);
      cross0[q] = (cross0[q] ?? 0) + x;
      cross1[q] = (cross1[q] ?? 0) + x * s;
    }
    const age = count - 1 - t;
    const every = age < COARSE ? 1 : age < COARSER ? 2 : 3;
    if (b0 === 0 || (every > 1 && (entries[t]?.at ?? 0) % every !== 0)) continue;
    let num = a0;
    let info = b0 - (lost * b0 * b0) / known;
    if (nuisances.length > 0) {
      num -= takenFromScore(cross0, nuisances);
      info -= takenFromInformation(cross0, nuisances);
    }
    info = Math.max(info, 0.02 * b0);
    const step =
      weight *
      every *
      (STEP_SMALL_WEIGHT * ratio(num, info, STEP_SMALL * STEP_SMALL * unit, freedom) +
        STEP_LARGE_WEIGHT * ratio(num, info, STEP_LARGE * STEP_LARGE * unit, freedom));
    sum += step;
    if (step > top) {
      top = step;
      start = t;
      rampIsTop = false;
    }
    if (age + 1 < RAMP_AT_LEAST || (every === 1 && (entries[t]?.at ?? 0) % 2 !== 0)) continue;
    const s0 = t === 0 ? s + 1 : Math.max(s, Math.min(s + 2, distance[t - 1] ?? s + 1));
    num = s0 * a0 - a1;
    info = s0 * s0 * b0 - 2 * s0 * b1 + b2;
    if (info <= 0) continue;
    const whole = info;
    info -= (lost * (s0 * b0 - b1) ** 2) / known;
    if (nuisances.length > 0) {
      const cross = cross0.map((x, q) => s0 * x - (cross1[q] ?? 0));
      num -= takenFromScore(cross, nuisances);
      info -= takenFromInformation(cross, nuisances);
    }
    info = Math.max(info, 0.02 * whole);
    const ramp = weight * Math.max(2, every) * RAMP_WEIGHT * ratio(num, info, RAMP * RAMP * unit, freedom);
    sum += ramp;
    rampSum += ramp;
    if (ramp > top) {
      top = ramp;
      start = t;
      rampIsTop = true;
    }
  }
  return { sum, rampSum, top, start, rampIsTop };
};

/** Likelihood ratio averaged over a size ~ N(0, variance), tails thickened for an estimated scatter. */
const ratio = (num: number, info: number, variance: number, freedom: number): number => {
  const grown = 1 + variance * info;
  const x = (num * num * variance) / grown;
  // Most are small: the series of the exponential, good to 0.2 %.
  if (x < 1) return (1 + x * (0.5 + x * (0.125 + x / 48))) / Math.sqrt(grown);
  const share = x / freedom;
  // ½ freedom × ln(1 + x/freedom), by its series where that is good to 0.002.
  const exponent =
    share < 0.1
      ? 0.5 * x * (1 - share * (0.5 - share / 3))
      : 0.5 * freedom * Math.log1p(Math.min(x, FARTHEST) / freedom);
  return Math.exp(exponent) / Math.sqrt(grown);
};
