import { ok, type Result } from '../result.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { type BasisAsked, chartBasis } from './chart-basis.js';
import { constants } from './constants.js';
import { DEFAULT_RULES, individuals } from './individuals.js';
import { movingRange } from './moving-range.js';
import type { RuleWord } from './zone-rules.js';

/**
 * A column of single readings against limits from their own moving range, with the moving range judged beside it.
 * How: centre is the target or the mean, sigma is given or mean moving range / (2/sqrt(pi)); `individuals` is folded
 * over the readings. A missing reading keeps its place; runs go on over it, its moving ranges are left out.
 * In: readings in any unit. Out: a chart in that unit; in `result` the moving ranges, their mean and upper limit
 * (D4 x mean, exact D4) and the places where one is beyond it.
 * Too few: a refusal for no reading, or for one when sigma is not given, or for no scatter at all.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.2. Example: the NIST flow rate has limits 45.8176 and 55.8024 with exact
 * constants (the page prints 45.8159 and 55.8041 with d2 rounded to 1.128).
 */
export type IndividualsChartConfig = BasisAsked & { readonly rules?: readonly RuleWord[] };

export const individualsChart = (
  config: IndividualsChartConfig,
  values: readonly (number | null)[],
): Result<Chart<ChartPoint>> => {
  const basis = chartBasis(config, values);
  if (!basis.ok) return basis;
  const { centre, sigma } = basis.value;
  const { width = 3, rules = DEFAULT_RULES } = config;
  const settings = { centre, sigma, width, rules };
  let state = individuals.initial(settings);
  const points = values.map((value, at): ChartPoint => {
    if (value === null) return missingPoint(at + 1);
    const step = individuals.step(settings, state, value);
    state = step.state;
    return { i: at + 1, value, ...step.point, signals: step.signal?.words ?? [] };
  });
  return ok({ centre, sigma, points, parameters: { width, rules }, result: rangeResult(values, config, sigma) });
};

/** The moving ranges beside the chart; empty when there is only one reading. */
const rangeResult = (
  values: readonly (number | null)[],
  { sigma: given, width = 3 }: IndividualsChartConfig,
  sigma: number,
): Readonly<Record<string, unknown>> => {
  const range = movingRange(values);
  if (!range.ok) return {};
  const { d2, D4 } = constants(2, width);
  const centre = given === undefined ? range.value.mean : d2 * sigma;
  const upper = D4 * centre;
  return {
    moving_range_mean: range.value.mean,
    moving_range_centre: centre,
    moving_range_upper: upper,
    moving_ranges: range.value.ranges,
    moving_range_signals: range.value.ranges.flatMap((value, i) => (value !== null && value > upper ? [i + 2] : [])),
  };
};
