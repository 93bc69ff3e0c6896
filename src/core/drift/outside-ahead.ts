import { normalCdf } from '../spc/normal.js';
import { GOING, type LevelFilter, levelOf, SETTLING, SLOPE_START } from './level-filter.js';
import { ADDED, BEGIN, FAST, FAST_SLOPE, HUGE, HUGE_SHARE, JUMP, JUMP_SIZE, SETTLES, SETTLING_KEEPS } from './ways.js';

/**
 * Mean level and chance of being outside ± `tolerance` `steps` on, `shift` added to every level: as levelAhead, without making the
 * accounts. With `now` (the chance at the last check) crossings on the way
 * count too, for what wanders: twice the chance at the end for a pure walk (reflection principle), less here, where part of it comes by
 * jumps; the factor was chosen on simulated ramps and walks.
 */
export const outsideAhead = (
  f: LevelFilter,
  sigma: number,
  steps: number,
  shift: number,
  tolerance: number,
  now: number | null,
): { readonly mean: number; readonly out: number } => {
  const s2 = sigma * sigma;
  const here = levelOf(f);
  const variance = here.sd_mm * here.sd_mm;
  const fadingKept = SETTLING_KEEPS ** steps;
  const fadingReach = (1 - fadingKept) / (1 - SETTLING_KEEPS);
  const begins = steps > 0;
  let stay = 1;
  if (begins) {
    stay -= JUMP + FAST;
    for (let kind = 0; kind < BEGIN.length; kind++) stay -= BEGIN[kind] ?? 0;
  }
  let mean = 0;
  let sum = 0;
  for (let i = 0; i < f.kind.length; i++) {
    const kind = f.kind[i] ?? 0;
    const reach = kind === SETTLING ? fadingReach : steps;
    const weight = stay * (f.weight[i] ?? 0);
    const level = (f.level[i] ?? 0) + (kind < GOING ? 0 : reach * (f.slope[i] ?? 0));
    let v = (f.variance[i] ?? 0) + (ADDED[kind] ?? 0) * s2 * steps;
    if (kind >= GOING) v += 2 * reach * (f.slopeWith[i] ?? 0) + reach * reach * (f.slopeVariance[i] ?? 0);
    mean += weight * level;
    sum += weight * crossing(outsideOf(level + shift, v, tolerance), kind, now);
  }
  if (!begins) return { mean: mean + shift, out: Math.min(1, sum) };
  const at = here.mean_mm + shift;
  for (let kind = 0; kind < BEGIN.length; kind++) {
    const reach = kind === SETTLING ? fadingReach : steps;
    const v = variance + (ADDED[kind] ?? 0) * s2 * steps + (reach * (SLOPE_START[kind] ?? 0)) ** 2 * s2;
    sum += (BEGIN[kind] ?? 0) * crossing(outsideOf(at, v, tolerance), kind, now);
  }
  sum += FAST * outsideOf(at, variance + ((ADDED[GOING] ?? 0) * steps + (steps * FAST_SLOPE) ** 2) * s2, tolerance);
  const plain = JUMP * (1 - HUGE_SHARE * (1 - SETTLES));
  sum +=
    plain * outsideOf(at, variance + JUMP_SIZE * s2, tolerance) +
    (JUMP - plain) * outsideOf(at, variance + HUGE * s2, tolerance);
  return { mean: mean + (1 - stay) * here.mean_mm + shift, out: Math.min(1, sum) };
};

const CLEAR = 1.5;
const CLEAR_SHARE = 0.85;

/** Quick look: false when it is surely less likely than not that ± `tolerance` is crossed within `steps` (most accounts stay well clear). */
export const mayCross = (f: LevelFilter, sigma: number, steps: number, shift: number, tolerance: number): boolean => {
  const fadingReach = (1 - SETTLING_KEEPS ** steps) / (1 - SETTLING_KEEPS);
  let clear = 0;
  for (let i = 0; i < f.kind.length; i++) {
    const kind = f.kind[i] ?? 0;
    const reach = kind === SETTLING ? fadingReach : steps;
    let level = (f.level[i] ?? 0) + shift;
    let v = (f.variance[i] ?? 0) + (ADDED[kind] ?? 0) * sigma * sigma * steps;
    if (kind >= GOING) {
      level += reach * (f.slope[i] ?? 0);
      v += 2 * reach * (f.slopeWith[i] ?? 0) + reach * reach * (f.slopeVariance[i] ?? 0);
    }
    const room = tolerance - Math.abs(level);
    if (room > 0 && room * room > CLEAR * CLEAR * v) clear += f.weight[i] ?? 0;
  }
  return clear < CLEAR_SHARE;
};

const ON_THE_WAY = 1.4;

const crossing = (out: number, kind: number, now: number | null): number =>
  now === null || kind >= GOING ? out : Math.min(1, Math.max(out, now + ON_THE_WAY * (out - now)));

const FAR = 6;

const outsideOf = (level: number, variance: number, tolerance: number): number => {
  const sd = Math.sqrt(Math.max(variance, 1e-16));
  const room = (tolerance - Math.abs(level)) / sd;
  if (room > FAR) return 0;
  if (room < -FAR) return 1;
  const beyond = (tolerance + Math.abs(level)) / sd;
  return 1 - normalCdf(room, 0, 1) + (beyond > FAR ? 0 : normalCdf(-beyond, 0, 1));
};
