import { type Restraint, restrain } from '../adjust/restraint.js';
import type { Axis } from '../axis.js';
import { motion } from '../drift/motion.js';
import { scatter } from '../drift/scatter-now.js';
import type { WatchConfig } from '../drift/seen.js';
import type { WatchState } from '../drift/watch.js';
import type { Cause } from '../finding.js';
import type { Levels } from './advise.js';

/** What restraint must know of the moment on one axis. */
export type Restrained = {
  readonly config: WatchConfig;
  readonly state: WatchState;
  readonly axis: Axis;
  readonly levels: Levels;
  readonly toleranceOf: (station: string) => number;
  readonly chanceOut: (station: string) => number;
  readonly stepOf: (station: string) => number | null;
  readonly reference: string;
};

/** A tolerance this many sigmas wide is acted on at one sigma; a wider one in proportion, so that what never threatens it is left alone. */
const SIGMAS_IN_TOLERANCE = 3.75;

/** Whether turning for this cause is expected to help, and how far past the aim; by the station it names, the reference, or the worst of several. */
export const restrained = (now: Restrained, cause: Cause, carried: readonly string[]): Restraint => {
  if (cause.kind === 'reference') return restrain(referenceInput(now, carried));
  const each = carried.map((id) => stationRestraint(now, id));
  const acting = each.filter((r) => r.act);
  const most = acting.reduce<Restraint | undefined>(
    (a, b) => (a === undefined || Math.abs(b.move_mm) > Math.abs(a.move_mm) ? b : a),
    undefined,
  );
  return most ?? { act: false, move_mm: 0 };
};

const stationRestraint = (now: Restrained, id: string): Restraint => {
  const level = now.levels[id] ?? null;
  const going = motion(now.config, now.state, now.axis, id);
  if (level === null || going === null) return { act: false, move_mm: 0 };
  const known = scatter(now.config, now.state)[now.axis];
  const sigma = known.station_mm[now.config.stations.findIndex((s) => s.id === id)] ?? known.sigma_mm;
  const tolerance_mm = now.toleranceOf(id);
  return restrain({
    level,
    sigma_mm: Math.max(sigma, tolerance_mm / SIGMAS_IN_TOLERANCE),
    tolerance_mm,
    p_out: now.chanceOut(id),
    going: going.going,
    slope_mm_per_check: going.slope_mm_per_check,
    step_mm: now.stepOf(id),
  });
};

/** The reference in its own direction: all others read the opposite way, each known so well. */
const referenceInput = (now: Restrained, carried: readonly string[]): Parameters<typeof restrain>[0] => {
  const known = scatter(now.config, now.state)[now.axis];
  let weights = 0;
  let mean = 0;
  let slope = 0;
  let going = 0;
  let tolerance_mm = Infinity;
  let p_out = 0;
  for (const id of carried) {
    const level = now.levels[id] ?? null;
    const way = motion(now.config, now.state, now.axis, id);
    if (level === null || way === null) continue;
    const weight = 1 / Math.max(level.sd_mm, 1e-4) ** 2;
    weights += weight;
    mean -= weight * level.mean_mm;
    slope -= weight * way.slope_mm_per_check;
    going += weight * way.going;
    tolerance_mm = Math.min(tolerance_mm, now.toleranceOf(id));
    p_out = Math.max(p_out, now.chanceOut(id));
  }
  const shared = known.share_of_reference * known.sigma_mm ** 2;
  return {
    level: {
      mean_mm: weights === 0 ? 0 : mean / weights,
      sd_mm: weights === 0 ? Infinity : Math.sqrt(1 / weights + shared),
    },
    sigma_mm: Math.max(known.sigma_mm, tolerance_mm / SIGMAS_IN_TOLERANCE),
    tolerance_mm,
    p_out,
    going: weights === 0 ? 0 : going / weights,
    slope_mm_per_check: weights === 0 ? 0 : slope / weights,
    step_mm: now.stepOf(now.reference),
  };
};
