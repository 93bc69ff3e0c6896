import { nearest } from '../../nearest.js';
import { quoted } from '../../quoted.js';
import { fail, ok, type Result } from '../../result.js';
import { countChart } from '../count-chart.js';
import type { CountKind } from '../count-samples.js';
import { present, type StatsAnswer } from './document.js';
import type { StatsOptions } from './options.js';
import { numberOf, numbersOf, type Table, valueColumn } from './table.js';
import { answer } from './variables.js';

/** `c`, `u` and `p`: counts, with the size of each sample for u and p. */
export const countsOf = (kind: CountKind, options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const size = sizeOf(kind, options, table);
  if (!size.ok) return size;
  const sizeColumn = typeof size.value === 'number' || size.value === undefined ? undefined : options.size;
  const column = valueColumn(table, options.column, [sizeColumn]);
  if (!column.ok) return column;
  const { limits, width, rules, target } = options;
  const chart = countChart(column.value.values, {
    kind,
    ...(size.value === undefined ? {} : { size: size.value }),
    ...(limits === undefined ? {} : { limits }),
    ...(width === undefined ? {} : { width }),
    ...(rules === undefined ? {} : { rules }),
    ...(target === undefined ? {} : { centre: target }),
  });
  if (!chart.ok) return fail(chart.problem.message, whereOf(table, chart.problem.where));
  return answer(kind, chart, present(column.value.values), table);
};

/** A number for every sample, a column of them, or nothing for c. */
const sizeOf = (
  kind: CountKind,
  { size }: StatsOptions,
  table: Table,
): Result<number | readonly (number | null)[] | undefined> => {
  if (kind === 'c') {
    return size === undefined ? ok(undefined) : fail('c counts flaws in samples of one size; with --size use u or p');
  }
  if (size === undefined) {
    return fail(`${kind} needs --size: ${kind === 'u' ? 'labels' : 'items'} inspected each time, a number or a column`);
  }
  if (table.names.includes(size)) {
    const column = numbersOf(table, size);
    return column.ok ? ok(column.value.values) : column;
  }
  const number = numberOf(size.trim());
  if (number !== null && number > 0) return ok(number);
  const near = nearest(size, table.names);
  return fail(
    `--size: ${quoted(size)} is neither a number above 0 nor a column${near === null ? '' : `; did you mean ${quoted(near)}?`}`,
    table.file,
  );
};

/** `value 7` of the chart as the line it stands in. */
const whereOf = (table: Table, where: string | undefined): string => {
  const place = /^value (\d+)$/.exec(where ?? '')?.[1];
  const line = place === undefined ? undefined : table.rows[Number(place) - 1]?.line;
  return line === undefined ? table.file : `${table.file}:${line}`;
};
