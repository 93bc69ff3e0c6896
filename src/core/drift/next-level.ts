import { keepLikeliest } from './keep-likeliest.js';
import { type Draft, GOING, HOLDING, type LevelFilter, levelOf, SETTLING, SLOPE_START } from './level-filter.js';
import {
  ADDED,
  BEGIN,
  FAST,
  FAST_SLOPE,
  HUGE,
  HUGE_SHARE,
  HUGE_WRONG_SHARE,
  JUMP,
  JUMP_SIZE,
  SETTLES,
  SETTLES_AFTER_UNREST,
  SETTLING_KEEPS,
  SLOPE_ADDED,
  WRONG,
  WRONG_SIZE,
} from './ways.js';

/**
 * Goes on to the next check: `reading` with scatter `sigma`, or null when the station was not read. A known move of uncertain size made
 * in between makes the level less sure by the variance `loose`. `steps`, `unrest` and `restless` as in levelAhead.
 */
export const nextLevel = (
  f: LevelFilter,
  sigma: number,
  steps: number,
  unrest: number,
  loose: number,
  reading: number | null,
  restless = 1,
): LevelFilter => {
  const d = levelAhead(f, sigma, steps, unrest, restless);
  if (loose > 0) for (let i = 0; i < d.variance.length; i++) d.variance[i] = (d.variance[i] ?? 0) + loose;
  if (reading !== null) take(d, sigma * sigma, reading);
  return keepLikeliest(d);
};

/** Takes one more reading at the same check. */
export const readLevel = (f: LevelFilter, sigma: number, reading: number): LevelFilter => {
  const d = copyOf(f);
  take(d, sigma * sigma, reading);
  return keepLikeliest(d);
};

/**
 * Every account as it will be `steps` usual check distances on, with those that may begin by then. After a splice, start or correction
 * (`unrest` > 1) changes are likelier; on a press where stations were seen to move (`restless`, see restless.ts) one that begins to go or to
 * wander is.
 */
export const levelAhead = (f: LevelFilter, sigma: number, steps: number, unrest: number, restless = 1): Draft => {
  const s2 = sigma * sigma;
  const now = levelOf(f);
  const variance = now.sd_mm * now.sd_mm;
  const d = copyOf(f);
  const jump = Math.min(0.2, JUMP * unrest);
  const begins = unrest * restless;
  const fast = Math.min(0.1, FAST * begins);
  let stay = 1 - jump - fast;
  for (let kind = 0; kind < BEGIN.length; kind++) stay -= beginning(kind, begins);
  for (let i = 0; i < d.weight.length; i++) d.weight[i] = (d.weight[i] ?? 0) * stay;
  for (let kind = 0; kind < BEGIN.length; kind++) {
    add(d, kind, beginning(kind, begins), now.mean_mm, variance, ((SLOPE_START[kind] ?? 0) * sigma) ** 2, 0);
  }
  add(d, GOING, fast, now.mean_mm, variance, (FAST_SLOPE * sigma) ** 2, 0);
  onward(d, s2, steps);
  const back = jump * (unrest > 1 ? SETTLES_AFTER_UNREST : SETTLES);
  const wide = JUMP_SIZE * s2;
  add(d, HOLDING, (jump - back) * (1 - HUGE_SHARE), now.mean_mm, variance + wide, 0, 0);
  add(d, HOLDING, (jump - back) * HUGE_SHARE, now.mean_mm, variance + HUGE * s2, 0, 0);
  // A jump that settles back: its slope takes it to where it came from.
  const fade = 1 - SETTLING_KEEPS;
  add(d, SETTLING, back, now.mean_mm, variance + wide, 1.1 * fade * fade * wide, -fade * wide);
  return d;
};

const copyOf = (f: LevelFilter): Draft => ({
  kind: f.kind.slice(),
  weight: f.weight.slice(),
  level: f.level.slice(),
  variance: f.variance.slice(),
  slope: f.slope.slice(),
  slopeVariance: f.slopeVariance.slice(),
  slopeWith: f.slopeWith.slice(),
});

const add = (
  d: Draft,
  kind: number,
  weight: number,
  level: number,
  variance: number,
  slopeVariance: number,
  slopeWith: number,
): void => {
  d.kind.push(kind);
  d.weight.push(weight);
  d.level.push(level);
  d.variance.push(variance);
  d.slope.push(0);
  d.slopeVariance.push(slopeVariance);
  d.slopeWith.push(slopeWith);
};

const beginning = (kind: number, unrest: number): number =>
  kind === HOLDING ? (BEGIN[kind] ?? 0) : Math.min(0.1, (BEGIN[kind] ?? 0) * unrest);

const onward = (d: Draft, s2: number, steps: number): void => {
  // A fading slope has gone this much farther by then, per unit of it.
  const fadingKept = SETTLING_KEEPS ** steps;
  const fadingReach = (1 - fadingKept) / (1 - SETTLING_KEEPS);
  for (let i = 0; i < d.kind.length; i++) {
    const kind = d.kind[i] ?? 0;
    const variance = (d.variance[i] ?? 0) + (ADDED[kind] ?? 0) * s2 * steps;
    if (kind < GOING) {
      d.variance[i] = variance;
      continue;
    }
    const kept = kind === SETTLING ? fadingKept : 1;
    const reach = kind === SETTLING ? fadingReach : steps;
    const slope = d.slope[i] ?? 0;
    const sv = d.slopeVariance[i] ?? 0;
    const sw = d.slopeWith[i] ?? 0;
    d.level[i] = (d.level[i] ?? 0) + reach * slope;
    d.variance[i] = variance + 2 * reach * sw + reach * reach * sv;
    d.slope[i] = kept * slope;
    d.slopeVariance[i] = kept * kept * sv + (SLOPE_ADDED[kind] ?? 0) * s2 * steps;
    d.slopeWith[i] = kept * (sw + reach * sv);
  }
};

const take = (d: Draft, s2: number, reading: number): void => {
  for (let i = 0; i < d.kind.length; i++) {
    const before = d.variance[i] ?? 0;
    const off = reading - (d.level[i] ?? 0);
    const far = -0.5 * off * off;
    const spread = before + s2;
    const wide = before + WRONG_SIZE * s2;
    const right = ((1 - WRONG) * Math.exp(Math.max(-300, far / spread))) / Math.sqrt(spread);
    let wrong = (WRONG * Math.exp(Math.max(-300, far / wide))) / Math.sqrt(wide);
    if (off * off > WRONG_SIZE * s2) {
      const huge = before + HUGE * s2;
      wrong += (WRONG * HUGE_WRONG_SHARE * Math.exp(Math.max(-300, far / huge))) / Math.sqrt(huge);
    }
    const trust = right / (right + wrong);
    const gain = before / spread;
    const doubt = trust * (1 - trust) * off * off;
    d.weight[i] = (d.weight[i] ?? 0) * (right + wrong);
    d.level[i] = (d.level[i] ?? 0) + trust * gain * off;
    d.variance[i] = before * (1 - trust * gain) + doubt * gain * gain;
    if ((d.kind[i] ?? 0) < GOING) continue;
    const sw = d.slopeWith[i] ?? 0;
    const slopeGain = sw / spread;
    d.slope[i] = (d.slope[i] ?? 0) + trust * slopeGain * off;
    d.slopeVariance[i] = Math.max(
      0,
      (d.slopeVariance[i] ?? 0) - trust * slopeGain * sw + doubt * slopeGain * slopeGain,
    );
    d.slopeWith[i] = sw * (1 - trust * gain) + doubt * gain * slopeGain;
  }
};
