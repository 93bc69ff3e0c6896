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
  let mean = 0;
  for (const p of parts) mean += p.weight * p.mean;
  // The interval costs a search: it is found when it is asked for.
  return {
    mean_mm: mean,
    p_out: outside(parts, tolerance_mm),
    get low_mm() {
      return quantile(parts, 0.1);
    },
    get high_mm() {
      return quantile(parts, 0.9);
    },
  };
};

const PLACES = 24;

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
  const crossedBy = (x: number): number => {
    const parts = mixture(config, state, axis, station, x) ?? here;
    let crossed = 0;
    for (const p of parts) {
      const out = outsideOf(p, tolerance_mm);
      crossed += p.weight * (p.wanders ? Math.min(1, Math.max(out, now + 2 * (out - now))) : out);
    }
    return Math.max(now, crossed);
  };
  if (crossedBy(last.web_m + horizon_m) < 0.5) return null;
  let early: number | null = now >= 0.1 ? last.web_m : null;
  let likely: number | null = now >= 0.5 ? last.web_m : null;
  let late: number | null = now >= 0.9 ? last.web_m : null;
  let before = now;
  let place = last.web_m;
  for (let i = 1; i <= PLACES && late === null; i++) {
    const x = last.web_m + (horizon_m * i * i) / (PLACES * PLACES);
    const crossed = Math.max(before, crossedBy(x));
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
  for (const p of parts) if (p.weight > 1e-9) out += p.weight * outsideOf(p, tolerance_mm);
  return Math.min(1, out);
};

const FAR = 7;

const outsideOf = (p: Part, tolerance_mm: number): number => {
  const room = (tolerance_mm - Math.abs(p.mean)) / p.sd;
  if (room > FAR) return 0;
  if (room < -FAR) return 1;
  const beyond = (tolerance_mm + Math.abs(p.mean)) / p.sd;
  return 1 - normalCdf(room, 0, 1) + (beyond > FAR ? 0 : normalCdf(-beyond, 0, 1));
};

/** By halving: the mixture's distribution function rises, so it finds the one place. */
const quantile = (parts: readonly Part[], share: number): number => {
  const likely = parts.filter((p) => p.weight > 1e-5);
  let low = Math.min(...likely.map((p) => p.mean - 6 * p.sd));
  let high = Math.max(...likely.map((p) => p.mean + 6 * p.sd));
  const close = 1e-4 * (high - low);
  while (high - low > close) {
    const middle = (low + high) / 2;
    let below = 0;
    for (const p of likely) below += p.weight * normalCdf(middle, p.mean, p.sd);
    if (below < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};
