import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { Axis } from '../axis.js';
import type { ReachLimit } from '../finding.js';
import { ahead, GOING, SETTLING } from './level-filter.js';
import { scatterOf } from './scatter.js';
import { scatterBelief } from './scatter-belief.js';
import type { WatchConfig } from './seen.js';
import { spacingOf } from './spacing.js';
import type { WatchState } from './watch.js';

export type Forecast = {
  readonly mean_mm: number;
  /** 80 % interval of the true register there. */
  readonly low_mm: number;
  readonly high_mm: number;
  /** Chance that the true register is outside tolerance there. */
  readonly p_out: number;
};

/**
 * Where a station's true register will be when the counter stands at `web_m`, if nobody turns anything.
 * A mixture over the ways the station may behave (level-filter.ts), one normal each. null = never read.
 */
export const forecast = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
  station: string,
  web_m: number,
  tolerance_mm: number,
): Forecast | null => {
  const parts = mixture(config, state, axis, station, web_m);
  if (parts === null) return null;
  return {
    mean_mm: parts.reduce((sum, p) => sum + p.weight * p.mean, 0),
    low_mm: quantile(parts, 0.1),
    high_mm: quantile(parts, 0.9),
    p_out: outside(parts, tolerance_mm),
  };
};

const PLACES = 40;

/**
 * Where a station's true register first crosses its limit within `horizon_m` from the last check; null = no crossing foreseen there
 * (less likely than not). The chance of having crossed by a place is taken as the chance of being out there, doubled for the wandering
 * part (reflection principle), never falling.
 */
export const reach = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
  station: string,
  tolerance_mm: number,
  horizon_m: number,
): ReachLimit | null => {
  const last = state[axis].entries[state[axis].entries.length - 1];
  if (last === undefined || !(horizon_m > 0)) return null;
  const here = mixture(config, state, axis, station, last.web_m);
  if (here === null) return null;
  const now = outside(here, tolerance_mm);
  let early: number | null = now >= 0.1 ? last.web_m : null;
  let likely: number | null = now >= 0.5 ? last.web_m : null;
  let late: number | null = now >= 0.9 ? last.web_m : null;
  let before = now;
  let place = last.web_m;
  for (let i = 1; i <= PLACES && late === null; i++) {
    const x = last.web_m + (horizon_m * i * i) / (PLACES * PLACES);
    const parts = mixture(config, state, axis, station, x) ?? here;
    let crossed = 0;
    for (const p of parts) {
      const out = outside([{ ...p, weight: 1 }], tolerance_mm);
      const was = now > 0 ? Math.min(1, now) : 0;
      crossed += p.weight * (p.wanders ? Math.min(1, Math.max(out, was + 2 * (out - was))) : out);
    }
    crossed = Math.max(before, crossed);
    const between = (level: number): number =>
      crossed > before ? place + ((x - place) * (level - before)) / (crossed - before) : x;
    if (early === null && crossed >= 0.1) early = between(0.1);
    if (likely === null && crossed >= 0.5) likely = between(0.5);
    if (late === null && crossed >= 0.9) late = between(0.9);
    before = crossed;
    place = x;
  }
  return likely === null || early === null ? null : { likely_m: likely, early_m: early, late_m: late };
};

type Part = { readonly weight: number; readonly mean: number; readonly sd: number; readonly wanders: boolean };

const mixture = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
  station: string,
  web_m: number,
): readonly Part[] | null => {
  const s = state[axis];
  const k = config.stations.findIndex((st) => st.id === station);
  const f = s.filters[k] ?? null;
  const last = s.entries[s.entries.length - 1];
  if (f === null || last === undefined || (s.lastRead[k] ?? -1) < 0) return null;
  const learned = scatterOf(s.scatter, scatterBelief(config, axis));
  const sigma = learned.sigma[k] ?? learned.pooled;
  const steps = Math.max(0, (web_m - last.web_m) / spacingOf(s.entries.slice(0, -1), last.web_m));
  const turned = s.turned[k] ?? 0;
  const p = steps === 0 ? f : ahead(f, sigma, steps, 1);
  return p.map((a) => ({
    weight: a.weight,
    mean: a.level + turned,
    sd: Math.sqrt(Math.max(a.variance, 1e-16)),
    wanders: a.kind !== GOING && a.kind !== SETTLING,
  }));
};

const outside = (parts: readonly Part[], tolerance_mm: number): number => {
  let out = 0;
  for (const p of parts) {
    if (p.weight < 1e-9) continue;
    out += p.weight * (normalCdf(-tolerance_mm, p.mean, p.sd) + 1 - normalCdf(tolerance_mm, p.mean, p.sd));
  }
  return Math.min(1, Math.max(0, out));
};

/** By halving: the mixture's distribution function rises, so it finds the one place. */
const quantile = (parts: readonly Part[], share: number): number => {
  let low = Math.min(...parts.map((p) => p.mean - 8 * p.sd));
  let high = Math.max(...parts.map((p) => p.mean + 8 * p.sd));
  for (let i = 0; i < 60 && high - low > 1e-9; i++) {
    const middle = (low + high) / 2;
    let below = 0;
    for (const p of parts) if (p.weight > 1e-9) below += p.weight * normalCdf(middle, p.mean, p.sd);
    if (below < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};
