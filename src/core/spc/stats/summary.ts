import { fail, ok, type Result } from '../../result.js';
import { summary } from '../summary.js';
import type { StatsAnswer } from './document.js';
import type { StatsOptions } from './options.js';
import { type Table, valueColumn } from './table.js';

/** `summary`: one column described. */
export const summaryOf = (options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const column = valueColumn(table, options.column);
  if (!column.ok) return column;
  const found = summary(column.value.values);
  if (!found.ok) return fail(found.problem.message, table.file);
  const { n, mean, sd } = found.value;
  const points = column.value.values.map((value, at) => ({
    i: at + 1,
    value,
    statistic: value,
    lower: null,
    upper: null,
    signals: [],
  }));
  return ok({
    document: {
      method: 'summary',
      n,
      centre: mean,
      sigma: sd,
      points,
      parameters: { column: column.value.name },
      result: found.value,
    },
  });
};
