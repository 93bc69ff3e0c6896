import { fail, ok, type Result } from '../result.js';
import {
  BOTH_SHAPES,
  type ChangepointConfig,
  type ChangepointPoint,
  changepoint,
  DEFAULT_WINDOW,
} from './changepoint.js';
import type { ChangeShape } from './changepoint-fit.js';
import { changepointThreshold } from './changepoint-threshold.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { type BasisAsked, badAsked, badReading } from './chart-basis.js';
import { addReading, moments, momentsOf } from './moments.js';

/**
 * Has a column of readings changed its level, when did it begin, by how much, and was it a step or a ramp?
 * How: `changepoint` folded over the readings; what is not given (target, sigma) is unknown to it and taken from the
 * readings as they come. The change told is the one believed at the reading where the evidence is strongest.
 * In: readings in any unit; a threshold, or the run length asked without a change (370 by default). A missing reading
 * keeps its place and moves nothing.
 * Out: `statistic` against the threshold; in `result`: `since` (first reading of the change), `shape`, `size` (how far
 * it had moved by then, in the unit of the readings; for a ramp also the `slope` a reading), `signal_at` (first signal from then on)
 * and `threshold`. Without a signal since, shape and size are null.
 * Too few: a refusal when no reading could be judged. No scatter at all and sigma not given: a refusal.
 * Source: see `changepoint`. Example: 20 readings about 0 and 10 about 2, sigma 1: a step since the 21st.
 */
export type ChangepointChartConfig = BasisAsked & {
  readonly threshold?: number;
  readonly asked?: number;
  readonly window?: number;
  readonly shapes?: readonly ChangeShape[];
  readonly prior?: { readonly sigma: number; readonly worth: number };
  readonly resolution?: number;
};

export const changepointChart = (
  config: ChangepointChartConfig,
  values: readonly (number | null)[],
): Result<Chart<ChartPoint>> => {
  const bad = badReading(values) ?? badAsked(config) ?? badScheme(config);
  if (bad !== null) return fail(bad);
  if (nothingScatters(config, values)) return fail('the readings do not scatter; give sigma');
  const { window = DEFAULT_WINDOW, shapes = BOTH_SHAPES, asked = 370 } = config;
  const threshold = config.threshold ?? config.width ?? changepointThreshold(asked, { window, shapes });
  const settings: ChangepointConfig = {
    threshold,
    window,
    shapes,
    ...(config.target !== undefined && { aim: config.target }),
    ...(config.sigma !== undefined && { sigma: config.sigma }),
    ...(config.prior !== undefined && { prior: config.prior }),
    ...(config.resolution !== undefined && { resolution: config.resolution }),
  };
  const points: ChartPoint[] = [];
  const places: number[] = [];
  let state = changepoint.initial(settings);
  let strongest: Found | null = null;
  for (const [at, value] of values.entries()) {
    if (value === null) {
      points.push(missingPoint(at + 1));
      continue;
    }
    places.push(at + 1);
    const { state: next, point, signal } = changepoint.step(settings, state, value);
    state = next;
    const { statistic, upper } = point;
    points.push({ i: at + 1, value, statistic, lower: null, upper, signals: signal?.words ?? [] });
    if (signal === null) continue;
    if (strongest === null || (statistic ?? 0) > strongest.statistic) strongest = found(point, places);
  }
  if (points.every((point) => point.statistic === null)) return fail(nothingJudged(values, config));
  const began = strongest?.since ?? null;
  const signalAt =
    began === null ? null : (points.find(({ i, signals }) => i >= began && signals.length > 0)?.i ?? null);
  const basis = basisBefore(config, values, began);
  const { since = null, shape = null, size = null, slope = null } = strongest ?? {};
  return ok({
    ...basis,
    points,
    parameters: {
      window,
      shapes,
      asked: config.threshold === undefined && config.width === undefined ? asked : null,
      threshold,
    },
    result: { since, shape, size, slope, signal_at: signalAt, threshold },
  });
};

type Found = {
  readonly statistic: number;
  readonly since: number;
  readonly shape: ChangeShape | null;
  readonly size: number | null;
  readonly slope: number | null;
};

const found = ({ statistic, length, shape, size, slope }: ChangepointPoint, places: readonly number[]): Found => ({
  statistic: statistic ?? 0,
  since: places[places.length - (length ?? 1)] ?? 1,
  shape,
  size,
  slope,
});

/** Level and scatter of the readings before the change, or of all of them; what was given stands. */
const basisBefore = (
  { target, sigma }: BasisAsked,
  values: readonly (number | null)[],
  since: number | null,
): { readonly centre: number; readonly sigma: number } => {
  const before = since === null || since < 4 ? values : values.slice(0, since - 1);
  const about = momentsOf(
    before.reduce((state, value) => (value === null ? state : addReading(state, value)), moments.initial({})),
  );
  return { centre: target ?? about.mean ?? 0, sigma: sigma ?? about.sd ?? 0 };
};

const nothingScatters = (config: ChangepointChartConfig, values: readonly (number | null)[]): boolean => {
  const present = values.filter((value) => value !== null);
  if (config.sigma !== undefined || config.prior !== undefined || config.resolution !== undefined) return false;
  return present.length > 1 && present.every((value) => value === present[0]);
};

const nothingJudged = (values: readonly (number | null)[], config: BasisAsked): string => {
  const present = values.filter((value) => value !== null);
  if (present.length === 0) return 'there are no readings to chart';
  return `a changepoint needs at least ${config.sigma === undefined ? 4 : 3} readings without a target and sigma, got ${present.length}`;
};

const badScheme = ({ threshold, asked, window }: ChangepointChartConfig): string | null => {
  if (threshold !== undefined && !(threshold > 0)) return `the threshold must be above 0, got ${threshold}`;
  if (asked !== undefined && !(asked >= 10 && asked <= 1e9))
    return `the asked run length must lie from 10 to 1e9, got ${asked}`;
  if (window !== undefined && !(Number.isInteger(window) && window >= 2))
    return `a window needs 2 readings or more, got ${window}`;
  return null;
};
