import { fail, ok, type Result } from '../result.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { type BasisAsked, chartBasis } from './chart-basis.js';
import { ewma } from './ewma.js';

/**
 * A column of readings as a weighted running mean between its limits.
 * How: `ewma` folded over the readings; target and sigma given, or the mean and the mean moving range / (2/sqrt(pi)).
 * A missing reading keeps its place and moves nothing.
 * In: readings in any unit; weight 0.2 and width 3 by default; limits exact in time unless `limits: 'fixed'`.
 * Out: a chart in that unit. Too few and errors: as the individuals chart; a weight outside (0, 1] is refused.
 * Source: see `ewma`. Example: NIST 6.3.2.4, weight 0.3, target 50, sigma 2.0539: final limits 47.4115 and 52.5884.
 */
export type EwmaChartConfig = BasisAsked & {
  readonly weight?: number;
  readonly limits?: 'exact' | 'fixed';
  readonly sides?: 1 | 2;
  readonly headStart?: number;
};

export const DEFAULT_WEIGHT = 0.2;

export const ewmaChart = (config: EwmaChartConfig, values: readonly (number | null)[]): Result<Chart<ChartPoint>> => {
  const { weight = DEFAULT_WEIGHT, width = 3, limits = 'exact', sides = 2, headStart = 0 } = config;
  if (!(weight > 0 && weight <= 1)) return fail(`the weight must lie above 0 and at most 1, got ${weight}`);
  if (!Number.isFinite(headStart)) return fail(`the head start must be a number, got ${headStart}`);
  const basis = chartBasis(config, values);
  if (!basis.ok) return basis;
  const { centre, sigma } = basis.value;
  const settings = { target: centre, sigma, weight, width, limits, sides, headStart };
  let state = ewma.initial(settings);
  const points = values.map((value, at): ChartPoint => {
    if (value === null) return missingPoint(at + 1);
    const step = ewma.step(settings, state, value);
    state = step.state;
    return { i: at + 1, value, ...step.point, signals: step.signal?.words ?? [] };
  });
  return ok({ centre, sigma, points, parameters: { weight, width, limits, sides, head_start: headStart }, result: {} });
};
