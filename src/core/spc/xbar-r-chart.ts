import { fail, ok, type Result } from '../result.js';
import type { Chart } from './chart.js';
import { badAsked } from './chart-basis.js';
import { constants } from './constants.js';
import { type MeanChartConfig, type MeanChartPoint, meanChart, type Subgroups, subgroupSize } from './mean-chart.js';

/**
 * Means of small groups read together, against limits from the ranges within the groups.
 * How: sigma = mean range / d2 (unless given); limits at centre +- width x sigma / sqrt(n); range limits from d3.
 * In: groups of one size n (2 or more) in any unit. Out: a chart of the means; in `result` the ranges, their centre,
 * limits and the groups beyond them.
 * Too few or unequal: a refusal that names the group. No range anywhere: a refusal, unless sigma is given.
 * Source: D. C. Montgomery, Introduction to Statistical Quality Control, section 6.2; ASTM E2587.
 * Example: with n = 5, grand mean 74.001 and mean range 0.023 the limits are 73.988 and 74.014 (Montgomery, piston
 * rings, from memory).
 */
export const xbarRChart = (config: MeanChartConfig, groups: Subgroups): Result<Chart<MeanChartPoint>> => {
  const size = subgroupSize(groups);
  if (!size.ok) return size;
  const bad = badAsked(config);
  if (bad !== null) return fail(bad);
  const spreads = groups.map((group) => Math.max(...group) - Math.min(...group));
  const mean = spreads.reduce((sum, spread) => sum + spread, 0) / spreads.length;
  const { width = 3 } = config;
  const { d2, d3 } = constants(size.value, width);
  const sigma = config.sigma ?? mean / d2;
  if (!(sigma > 0)) return fail('no group scatters (every range is 0); give sigma');
  const centre = config.sigma === undefined ? mean : d2 * sigma;
  const spread = {
    word: 'range',
    values: spreads,
    centre,
    lower: Math.max(0, centre - width * d3 * sigma),
    upper: centre + width * d3 * sigma,
  };
  return ok(meanChart(config, groups, sigma, spread));
};
