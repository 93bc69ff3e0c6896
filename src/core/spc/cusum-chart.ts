import { fail, ok, type Result } from '../result.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { type BasisAsked, chartBasis } from './chart-basis.js';
import { type CusumPoint, cusum, DEFAULT_DECISION, DEFAULT_SLACK } from './cusum.js';

/**
 * A column of readings as two cumulative sums against a decision limit.
 * How: `cusum` folded over the readings; target and sigma given, or the mean and the mean moving range / (2/sqrt(pi)).
 * A missing reading keeps its place and moves nothing. `statistic` is the larger of the two sums, negative when it is
 * the lower one, so that it draws as one line between -limit and +limit.
 * In: readings in any unit; slack 0.5, decision 5, head start 0 in sigmas. Out: a chart in that unit; in `result` the
 * first signal and since which reading the sum that signalled had been above zero.
 * Too few and errors: as the individuals chart; a slack below 0, a decision not above 0 are refused.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.3. Example: the NIST groups (slack 0.5, decision 6.608) signal at 14.
 */
export type CusumChartConfig = BasisAsked & {
  readonly slack?: number;
  readonly decision?: number;
  readonly headStart?: number;
  readonly sides?: 1 | 2;
};

export type CusumChartPoint = ChartPoint & {
  readonly high: number | null;
  readonly low: number | null;
  readonly limit: number | null;
};

export const cusumChart = (
  config: CusumChartConfig,
  values: readonly (number | null)[],
): Result<Chart<CusumChartPoint>> => {
  const { slack = DEFAULT_SLACK, decision = DEFAULT_DECISION, headStart = 0, sides = 2 } = config;
  if (!(slack >= 0 && Number.isFinite(slack))) return fail(`the slack must be 0 or more sigmas, got ${slack}`);
  if (!(decision > 0 && Number.isFinite(decision))) return fail(`the decision limit must be above 0, got ${decision}`);
  if (!(headStart >= 0 && headStart < decision)) {
    return fail(`the head start must lie from 0 to below the decision limit ${decision}, got ${headStart}`);
  }
  const basis = chartBasis(config, values);
  if (!basis.ok) return basis;
  const { centre, sigma } = basis.value;
  const settings = { target: centre, sigma, slack, decision, headStart, sides };
  let state = cusum.initial(settings);
  let first: CusumFound | null = null;
  const points = values.map((value, at): CusumChartPoint => {
    if (value === null) return { ...missingPoint(at + 1), high: null, low: null, limit: null };
    const step = cusum.step(settings, state, value);
    state = step.state;
    if (step.signal !== null && first === null) first = found(step.point, at, values);
    return pointOf(at + 1, value, step.point, step.signal !== null);
  });
  const parameters = { slack, decision, head_start: headStart, sides };
  const none: CusumFound = { signal_at: null, since: null, side: null };
  return ok({ centre, sigma, points, parameters, result: first ?? none });
};

type CusumFound = {
  readonly signal_at: number | null;
  readonly since: number | null;
  readonly side: 'high' | 'low' | null;
};

const pointOf = (i: number, value: number, point: CusumPoint, signals: boolean): CusumChartPoint => {
  const { high, low, limit } = point;
  const statistic = low === null || high >= low ? high : -low;
  const lower = low === null ? null : -limit;
  return { i, value, statistic, lower, upper: limit, high, low, limit, signals: signals ? ['beyond-limits'] : [] };
};

/** When the sum that signalled last stood at zero: readings counted back over those present. */
const found = (point: CusumPoint, at: number, values: readonly (number | null)[]): CusumFound => {
  const side = point.high > point.limit ? 'high' : 'low';
  let left = side === 'high' ? point.highFor : point.lowFor;
  let since = at;
  for (let i = at; i >= 0 && left > 0; i -= 1) {
    if ((values[i] ?? null) === null) continue;
    since = i;
    left -= 1;
  }
  return { signal_at: at + 1, since: since + 1, side };
};
