import { fail, ok, type Result } from '../../result.js';
import type { ChartPoint } from '../chart.js';
import { individualsChart } from '../individuals-chart.js';
import { repeatedStep } from '../repeated-step.js';
import { type Steadiness, steadiness, steadinessOfGroups } from '../steadiness.js';
import { summary } from '../summary.js';
import { xbarRChart } from '../xbar-r-chart.js';
import { xbarSChart } from '../xbar-s-chart.js';
import { present } from './document.js';
import { groupsOf } from './groups.js';
import type { StatsOptions } from './options.js';
import { type Table, valueColumn } from './table.js';

/** What a capability study is made of, wherever it came from. */
export type CapabilityStudy = {
  readonly n: number;
  readonly mean: number;
  /** From reading to reading, or within the groups. */
  readonly within: number;
  readonly overall: number;
  readonly points: readonly ChartPoint[];
  readonly steadiness: Steadiness;
  /** What the readings are rounded to, where that shows; else 0. */
  readonly step: number;
};

/** Above this many readings a group, its range wastes what it knows; the standard deviation is used (Montgomery, 6.3). */
const LARGEST_RANGE_GROUP = 10;

/** The study asked for; refused when it mixes both kinds of input, or the readings make no study. */
export const capabilityStudy = (options: StatsOptions, table: Table | null): Result<CapabilityStudy> => {
  const { mean, sd, n } = options;
  if (mean !== undefined || sd !== undefined || n !== undefined) {
    if (table !== null) return fail('give readings in a file, or --mean --sd --n, not both');
    if (mean === undefined || sd === undefined || n === undefined) return fail('--mean, --sd and --n go together');
    const steadinessOfSummary = {
      steady: null,
      why: ['mean, sd and n alone do not show whether the process is steady'],
    };
    return ok({
      n,
      mean,
      within: options.sigma ?? sd,
      overall: sd,
      points: [],
      steadiness: steadinessOfSummary,
      step: 0,
    });
  }
  if (table === null) return fail('capability needs a FILE.csv, or --mean --sd --n');
  return options.group === undefined ? fromColumn(options, table) : fromGroups(options, options.group, table);
};

const fromColumn = (options: StatsOptions, table: Table): Result<CapabilityStudy> => {
  const column = valueColumn(table, options.column);
  if (!column.ok) return column;
  const { values } = column.value;
  const n = present(values);
  if (n < 2) return fail(`capability needs at least 2 readings, got ${n}`, table.file);
  const chart = individualsChart(given(options), values);
  if (!chart.ok) return fail(chart.problem.message, table.file);
  const all = summary(values);
  if (!all.ok) return fail(all.problem.message, table.file);
  return ok({
    n,
    mean: all.value.mean,
    within: chart.value.sigma,
    overall: all.value.sd,
    points: chart.value.points,
    steadiness: steadiness(values),
    step: repeatedStep(values.filter((value) => value !== null)),
  });
};

const fromGroups = (options: StatsOptions, group: string, table: Table): Result<CapabilityStudy> => {
  const read = groupsOf(table, options.column, group);
  if (!read.ok) return read;
  const { groups } = read.value;
  const byRange = (groups[0]?.length ?? 0) <= LARGEST_RANGE_GROUP;
  const chart = byRange ? xbarRChart(given(options), groups) : xbarSChart(given(options), groups);
  if (!chart.ok) return fail(chart.problem.message, table.file);
  const all = summary(groups.flat());
  if (!all.ok) return fail(all.problem.message, table.file);
  return ok({
    n: groups.flat().length,
    mean: all.value.mean,
    within: chart.value.sigma,
    overall: all.value.sd,
    points: chart.value.points,
    steadiness: steadinessOfGroups(groups),
    step: repeatedStep(groups.flat()),
  });
};

const given = ({ sigma, width, rules }: StatsOptions): Pick<StatsOptions, 'sigma' | 'width' | 'rules'> => ({
  ...(sigma === undefined ? {} : { sigma }),
  ...(width === undefined ? {} : { width }),
  ...(rules === undefined ? {} : { rules }),
});
