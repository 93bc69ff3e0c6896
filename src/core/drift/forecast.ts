import type { Axis } from '../axis.js';
import type { ReachLimit } from '../finding.js';
import { normalCdf } from '../spc/normal.js';
import type { LevelFilter } from './level-filter.js';
import { levelAhead } from './next-level.js';
import { mayCross, outsideAhead } from './outside-ahead.js';
import type { WatchConfig } from './seen.js';
import { stepsIn } from './spacing.js';
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
  const one = known(config, state, axis, station);
  if (one === null) return null;
  const steps = one.stepsTo(web_m);
  const { mean, out } = outsideAhead(one.filter, one.sigma, steps, one.turned, tolerance_mm, null);
  // The interval costs a search: it is found when it is asked for.
  return {
    mean_mm: mean,
    p_out: out,
    get low_mm() {
      return quantile(one, steps, 0.1);
    },
    get high_mm() {
      return quantile(one, steps, 0.9);
    },
  };
};

const PLACES = 24;
/**
 * Chances of having crossed at the two ends of the interval. The early end is the plain tenth. The late one stands further in than nine
 * tenths, as accounts of wandering spread crossings farther out than those of the drifts that reach a limit at all: fitted so that the
 * interval holds four crossings in five of ramps, walks and settling (bench drift).
 */
const EARLY = 0.1;
const LATE = 2 / 3;

/**
 * Where a station's true register first crosses its limit within `horizon_m` from the last check; null = no crossing foreseen there
 * (less likely than not). See outside-ahead.ts for
 * crossings on the way. The chance never falls with the distance.
 */
export const reach = (
  config: WatchConfig,
  state: WatchState,
  axis: Axis,
  station: string,
  tolerance_mm: number,
  horizon_m: number,
): ReachLimit | null => {
  const one = known(config, state, axis, station);
  const last = state[axis].entries[state[axis].entries.length - 1];
  if (one === null || last === undefined || !(horizon_m > 0)) return null;
  if (!mayCross(one.filter, one.sigma, one.stepsTo(last.web_m + horizon_m), one.turned, tolerance_mm)) return null;
  const out = (x: number, before: number | null): number =>
    outsideAhead(one.filter, one.sigma, one.stepsTo(x), one.turned, tolerance_mm, before).out;
  const now = out(last.web_m, null);
  const crossedBy = (x: number): number => Math.max(now, out(x, now));
  if (crossedBy(last.web_m + horizon_m) < 0.5) return null;
  let early: number | null = now >= EARLY ? last.web_m : null;
  let likely: number | null = now >= 0.5 ? last.web_m : null;
  let late: number | null = now >= LATE ? last.web_m : null;
  let before = now;
  let place = last.web_m;
  for (let i = 1; i <= PLACES && late === null; i++) {
    const x = last.web_m + (horizon_m * i * i) / (PLACES * PLACES);
    const crossed = Math.max(before, crossedBy(x));
    const between = (level: number): number =>
      crossed > before ? place + ((x - place) * (level - before)) / (crossed - before) : x;
    if (early === null && crossed >= EARLY) early = between(EARLY);
    if (likely === null && crossed >= 0.5) likely = between(0.5);
    if (late === null && crossed >= LATE) late = between(LATE);
    before = crossed;
    place = x;
  }
  return likely === null || early === null ? null : { likely_m: likely, early_m: early, late_m: late };
};

/** One station's accounts, the known corrections it carries, and how far a place is from the last check. */
type Known = {
  readonly filter: LevelFilter;
  readonly sigma: number;
  readonly turned: number;
  readonly stepsTo: (web_m: number) => number;
};

const known = (config: WatchConfig, state: WatchState, axis: Axis, station: string): Known | null => {
  const s = state[axis];
  const k = config.stations.findIndex((st) => st.id === station);
  const filter = s.filters[k] ?? null;
  const last = s.entries[s.entries.length - 1];
  if (filter === null || last === undefined || (s.lastRead[k] ?? -1) < 0) return null;
  return {
    filter,
    sigma: s.known.sigma[k] ?? s.known.pooled,
    turned: s.turned[k] ?? 0,
    stepsTo: (web_m) => stepsIn(web_m - last.web_m, s.spacing_m),
  };
};

/** By halving: the mixture's distribution function rises, so it finds the one place. */
const quantile = (one: Known, steps: number, share: number): number => {
  const f = steps === 0 ? one.filter : levelAhead(one.filter, one.sigma, steps, 1);
  const likely = f.weight.flatMap((weight, i) =>
    weight > 1e-5
      ? [{ weight, mean: (f.level[i] ?? 0) + one.turned, sd: Math.sqrt(Math.max(f.variance[i] ?? 0, 1e-16)) }]
      : [],
  );
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
