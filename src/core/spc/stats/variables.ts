import { fail, ok, type Result } from '../../result.js';
import { changepointChart } from '../changepoint-chart.js';
import type { Chart, ChartPoint } from '../chart.js';
import { cusumChart } from '../cusum-chart.js';
import { ewmaChart } from '../ewma-chart.js';
import { individualsChart } from '../individuals-chart.js';
import { xbarRChart } from '../xbar-r-chart.js';
import { xbarSChart } from '../xbar-s-chart.js';
import { present, type StatsAnswer } from './document.js';
import { groupsOf } from './groups.js';
import type { StatsOptions } from './options.js';
import { type Table, valueColumn } from './table.js';

/** `individuals`: single readings, in the order of the rows. */
export const individualsOf = (options: StatsOptions, table: Table): Result<StatsAnswer> => {
  if (options.group !== undefined) return fail('individuals takes single readings; for groups use xbar-r or xbar-s');
  const column = valueColumn(table, options.column);
  if (!column.ok) return column;
  return answer('individuals', individualsChart(options, column.value.values), present(column.value.values), table);
};

/** `xbar-r` and `xbar-s`: means of groups, scatter from the groups' ranges or standard deviations. */
export const meansOf = (method: 'xbar-r' | 'xbar-s', options: StatsOptions, table: Table): Result<StatsAnswer> => {
  if (options.group === undefined) return fail(`${method} needs --group COLUMN: which readings were taken together`);
  const read = groupsOf(table, options.column, options.group);
  if (!read.ok) return read;
  const { groups, names } = read.value;
  const chart = method === 'xbar-r' ? xbarRChart(options, groups) : xbarSChart(options, groups);
  return answer(method, chart, groups.flat().length, table, { groups: names });
};

/** `ewma` and `cusum`: running sums over single readings, or over the means of groups when groups are given. */
export const runningOf = (method: 'ewma' | 'cusum', options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const readings = readingsOf(options, table);
  if (!readings.ok) return readings;
  const { values, n, sigma } = readings.value;
  const config = sigma === undefined ? options : { ...options, sigma };
  return answer(method, method === 'ewma' ? ewmaChart(config, values) : cusumChart(config, values), n, table);
};

/** `changepoint`: a step or a ramp that began somewhere in the record. */
export const changeOf = (options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const readings = readingsOf(options, table);
  if (!readings.ok) return readings;
  const { values, n, sigma } = readings.value;
  return answer(
    'changepoint',
    changepointChart(sigma === undefined ? options : { ...options, sigma }, values),
    n,
    table,
  );
};

export type Readings = {
  readonly values: readonly (number | null)[];
  readonly n: number;
  /** Of what is charted: given, or within the groups over the root of their size; absent = to be found in the values. */
  readonly sigma?: number;
};

/** Single readings, or the means of groups with the scatter within the groups. */
export const readingsOf = (options: StatsOptions, table: Table): Result<Readings> => {
  if (options.group === undefined) {
    const column = valueColumn(table, options.column);
    if (!column.ok) return column;
    const { values } = column.value;
    return ok({ values, n: present(values), ...(options.sigma === undefined ? {} : { sigma: options.sigma }) });
  }
  const read = groupsOf(table, options.column, options.group);
  if (!read.ok) return read;
  const { groups } = read.value;
  const within = xbarRChart(options.sigma === undefined ? {} : { sigma: options.sigma }, groups);
  if (!within.ok) return fail(within.problem.message, table.file);
  const size = groups[0]?.length ?? 1;
  return ok({
    values: within.value.points.map(({ value }) => value),
    n: groups.flat().length,
    sigma: within.value.sigma / Math.sqrt(size),
  });
};

/** A chart as an answer; trouble with the readings is told with the file it is in. */
export const answer = (
  method: string,
  chart: Result<Chart<ChartPoint>>,
  n: number,
  table: Table,
  parameters: Readonly<Record<string, unknown>> = {},
): Result<StatsAnswer> => {
  if (!chart.ok) return fail(chart.problem.message, chart.problem.where ?? table.file);
  const { centre, sigma, points, result } = chart.value;
  return ok({
    document: { method, n, centre, sigma, points, parameters: { ...chart.value.parameters, ...parameters }, result },
  });
};
