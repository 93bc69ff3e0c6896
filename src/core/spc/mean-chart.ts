import { fail, ok, type Result } from '../result.js';
import type { Chart, ChartPoint } from './chart.js';
import { DEFAULT_RULES, individuals } from './individuals.js';
import { meanOver } from './moments.js';
import type { RuleWord } from './zone-rules.js';

/** Readings in the groups they were taken in, in order. */
export type Subgroups = readonly (readonly number[])[];

export type MeanChartConfig = {
  readonly target?: number;
  readonly sigma?: number;
  readonly width?: number;
  readonly rules?: readonly RuleWord[];
};

/** A group's mean between its limits, and its own scatter. */
export type MeanChartPoint = ChartPoint & { readonly spread: number };

/** The scatter within the groups, as it is charted beside the means. */
export type SpreadChart = {
  readonly word: string;
  readonly values: readonly number[];
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
};

/** Means of equal groups between limits at width x sigma / sqrt(n); `sigma` is that of single readings. */
export const meanChart = (
  config: MeanChartConfig,
  groups: Subgroups,
  sigma: number,
  spread: SpreadChart,
): Chart<MeanChartPoint> => {
  const size = groups[0]?.length ?? 1;
  const means = groups.map(meanOver);
  const centre = config.target ?? meanOver(means);
  const { width = 3, rules = DEFAULT_RULES } = config;
  const settings = { centre, sigma: sigma / Math.sqrt(size), width, rules };
  let state = individuals.initial(settings);
  const points = means.map((mean, at): MeanChartPoint => {
    const step = individuals.step(settings, state, mean);
    state = step.state;
    const signals = step.signal?.words ?? [];
    return { i: at + 1, value: mean, ...step.point, signals, spread: spread.values[at] ?? 0 };
  });
  const { word, values, lower, upper } = spread;
  const result = {
    [`${word}s`]: values,
    [`${word}_centre`]: spread.centre,
    [`${word}_lower`]: lower,
    [`${word}_upper`]: upper,
    [`${word}_signals`]: values.flatMap((value, i) => (value > upper || value < lower ? [i + 1] : [])),
  };
  return { centre, sigma, points, parameters: { size, width, rules }, result };
};

/** The one size of all groups, or what is wrong with them. */
export const subgroupSize = (groups: Subgroups): Result<number> => {
  const first = groups[0];
  if (first === undefined) return fail('there are no groups to chart');
  if (first.length < 2) return fail('group 1 has one reading; a group needs at least 2');
  const odd = groups.findIndex((group) => group.length !== first.length);
  if (odd >= 0) {
    return fail(`group ${odd + 1} has ${groups[odd]?.length} readings, group 1 has ${first.length}; all must be equal`);
  }
  const bad = groups.findIndex((group) => group.some((value) => !Number.isFinite(value)));
  if (bad >= 0) return fail(`group ${bad + 1} holds something that is not a number`);
  return ok(first.length);
};
