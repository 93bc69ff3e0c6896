import { fail, ok, type Result } from '../../result.js';
import { type Capability, capabilityOf, checkTolerance, type Index, type Tolerance } from '../capability.js';
import type { ChartPoint } from '../chart.js';
import { individualsChart } from '../individuals-chart.js';
import { type Steadiness, steadiness, steadinessOfGroups } from '../steadiness.js';
import { summary } from '../summary.js';
import { xbarRChart } from '../xbar-r-chart.js';
import { xbarSChart } from '../xbar-s-chart.js';
import { present, type StatsAnswer } from './document.js';
import { groupsOf } from './groups.js';
import type { StatsOptions } from './options.js';
import { type Table, valueColumn } from './table.js';

/** What a capability study is made of, wherever it came from. */
type Study = {
  readonly n: number;
  readonly mean: number;
  /** From reading to reading, or within the groups. */
  readonly within: number;
  readonly overall: number;
  readonly points: readonly ChartPoint[];
  readonly steadiness: Steadiness;
};

/** Above this many readings a group, its range wastes what it knows; the standard deviation is used (Montgomery, 6.3). */
const LARGEST_RANGE_GROUP = 10;

/** `capability`: from a column, from groups, or from `--mean --sd --n` alone. */
export const capabilityAnswer = (options: StatsOptions, table: Table | null): Result<StatsAnswer> => {
  const { lower, upper, target } = options;
  const tolerance: Tolerance = {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(target === undefined ? {} : { target }),
  };
  const sound = checkTolerance(tolerance);
  if (!sound.ok)
    return lower === undefined && upper === undefined ? fail('capability needs --lower, --upper or both') : sound;
  const read = studyOf(options, table);
  if (!read.ok) return read;
  const study = read.value;
  const within = capabilityOf({ n: study.n, mean: study.mean, sigma: study.within }, tolerance);
  const overall = capabilityOf({ n: study.n, mean: study.mean, sigma: study.overall }, tolerance);
  if (!within.ok) return fail(within.problem.message, table?.file);
  if (!overall.ok) return fail(overall.problem.message, table?.file);
  const steady = study.steadiness.steady !== false;
  const refusal = steady ? undefined : refusalOf(study.steadiness.why);
  const middle = lower !== undefined && upper !== undefined ? (lower + upper) / 2 : null;
  return ok({
    ...(refusal === undefined ? {} : { refusal }),
    document: {
      method: 'capability',
      n: study.n,
      centre: study.mean,
      sigma: study.within,
      points: study.points,
      parameters: { lower: lower ?? null, upper: upper ?? null, target: target ?? middle, confidence: 0.95 },
      result: {
        ...indices(steady ? within.value : null, overall.value),
        mean: study.mean,
        sigma_within: study.within,
        sigma_overall: study.overall,
        steady: study.steadiness.steady,
        steady_why: study.steadiness.why,
        refusal: refusal ?? null,
      },
    },
  });
};

const indices = (within: Capability | null, overall: Capability): Readonly<Record<string, unknown>> => ({
  ...index('cp', within?.both),
  ...index('cpk', within?.nearest),
  ...index('pp', overall.both),
  ...index('ppk', overall.nearest),
  ...index('cpm', within?.onTarget),
  cpl: within?.toLower?.value ?? null,
  cpu: within?.toUpper?.value ?? null,
  cpm_close_low: within?.onTargetClose?.low ?? null,
  cpm_close_high: within?.onTargetClose?.high ?? null,
});

const index = (name: string, found: Index | null | undefined): Readonly<Record<string, number | null>> => ({
  [name]: found?.value ?? null,
  [`${name}_low`]: found?.low ?? null,
  [`${name}_high`]: found?.high ?? null,
});

const refusalOf = (why: readonly string[]): string => {
  const shown = why.slice(0, 3).join('; ') + (why.length > 3 ? `; and ${why.length - 3} more` : '');
  return (
    `the process is not steady (${shown}): no cp, cpk or cpm, they would foretell nothing. ` +
    'pp and ppk say only what these readings did. Find the cause, then measure again'
  );
};

const studyOf = (options: StatsOptions, table: Table | null): Result<Study> => {
  const { mean, sd, n } = options;
  if (mean !== undefined || sd !== undefined || n !== undefined) {
    if (table !== null) return fail('give readings in a file, or --mean --sd --n, not both');
    if (mean === undefined || sd === undefined || n === undefined) return fail('--mean, --sd and --n go together');
    const steadinessOfSummary = {
      steady: null,
      why: ['mean, sd and n alone do not show whether the process is steady'],
    };
    return ok({ n, mean, within: options.sigma ?? sd, overall: sd, points: [], steadiness: steadinessOfSummary });
  }
  if (table === null) return fail('capability needs a FILE.csv, or --mean --sd --n');
  return options.group === undefined ? fromColumn(options, table) : fromGroups(options, options.group, table);
};

const fromColumn = (options: StatsOptions, table: Table): Result<Study> => {
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
  });
};

const fromGroups = (options: StatsOptions, group: string, table: Table): Result<Study> => {
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
  });
};

const given = ({ sigma, width, rules }: StatsOptions): Pick<StatsOptions, 'sigma' | 'width' | 'rules'> => ({
  ...(sigma === undefined ? {} : { sigma }),
  ...(width === undefined ? {} : { width }),
  ...(rules === undefined ? {} : { rules }),
});
