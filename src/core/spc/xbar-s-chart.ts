import { fail, ok, type Result } from '../result.js';
import type { Chart } from './chart.js';
import { badAsked } from './chart-basis.js';
import { meanSdOfGroup } from './constants.js';
import { type MeanChartConfig, type MeanChartPoint, meanChart, type Subgroups, subgroupSize } from './mean-chart.js';
import { momentsOver } from './moments.js';

/**
 * Means of groups read together, against limits from the standard deviations within the groups.
 * How: sigma = mean standard deviation / c4 (unless given); limits at centre +- width x sigma / sqrt(n).
 * In: groups of one size n (2 or more) in any unit. Out: a chart of the means; in `result` the standard deviations,
 * their centre, limits and the groups beyond them.
 * Too few or unequal: a refusal that names the group. No scatter anywhere: a refusal, unless sigma is given.
 * Source: D. C. Montgomery, Introduction to Statistical Quality Control, section 6.3; ASTM E2587.
 * Example: for n = 5 the limits of the mean lie 1.427 mean standard deviations from the centre (A3).
 */
export const xbarSChart = (config: MeanChartConfig, groups: Subgroups): Result<Chart<MeanChartPoint>> => {
  const size = subgroupSize(groups);
  if (!size.ok) return size;
  const bad = badAsked(config);
  if (bad !== null) return fail(bad);
  const sds = groups.map((group) => momentsOver(group).sd ?? 0);
  const mean = sds.reduce((sum, sd) => sum + sd, 0) / sds.length;
  const { width = 3 } = config;
  const c4 = meanSdOfGroup(size.value);
  const sigma = config.sigma ?? mean / c4;
  if (!(sigma > 0)) return fail('no group scatters (every standard deviation is 0); give sigma');
  const centre = config.sigma === undefined ? mean : c4 * sigma;
  const reach = width * sigma * Math.sqrt(1 - c4 * c4);
  const spread = { word: 'sd', values: sds, centre, lower: Math.max(0, centre - reach), upper: centre + reach };
  return ok(meanChart(config, groups, sigma, spread));
};
