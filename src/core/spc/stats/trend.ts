import { fail, ok, type Result } from '../../result.js';
import type { ChartPoint } from '../chart.js';
import { missingPoint } from '../chart.js';
import { leastSquares, predict } from '../least-squares.js';
import { mannKendall } from '../mann-kendall.js';
import { theilSen } from '../theil-sen.js';
import type { StatsAnswer } from './document.js';
import type { StatsOptions } from './options.js';
import { numbersOf, type Table, valueColumn } from './table.js';

const X = 'x';

/** `trend`: against column `x` if there is one, else against the number of the row. */
export const trendOf = (options: StatsOptions, table: Table): Result<StatsAnswer> => {
  const hasX = table.names.includes(X) && options.column !== X;
  const column = valueColumn(table, options.column, hasX ? [X] : []);
  if (!column.ok) return column;
  const places = hasX ? numbersOf(table, X) : ok({ name: X, values: table.rows.map((_, at) => at + 1) });
  if (!places.ok) return places;
  const xs: number[] = [];
  const ys: number[] = [];
  for (const [at, y] of column.value.values.entries()) {
    const x = places.value.values[at] ?? null;
    if (x === null || y === null) continue;
    xs.push(x);
    ys.push(y);
  }
  const rank = mannKendall(ys, xs);
  if (!rank.ok) return fail(rank.problem.message, table.file);
  const line = leastSquares(xs, ys);
  if (!line.ok) return fail(line.problem.message, table.file);
  const median = theilSen(xs, ys);
  if (!median.ok) return fail(median.problem.message, table.file);
  const fit = line.value;
  const points = column.value.values.map((y, at): ChartPoint & { readonly x?: number } => {
    const x = places.value.values[at] ?? null;
    if (x === null || y === null) return missingPoint(at + 1);
    const { value, low, high } = predict(fit, x);
    return { i: at + 1, value: y, statistic: value, lower: low, upper: high, signals: [], x };
  });
  const next = hasX ? null : table.rows.length + 1;
  const foreseen = next === null ? null : predict(fit, next);
  return ok({
    document: {
      method: 'trend',
      n: ys.length,
      centre: fit.meanY,
      sigma: fit.residualSd,
      points,
      parameters: { confidence: 0.95, x: hasX ? X : 'row' },
      result: {
        slope: fit.slope,
        slope_se: fit.slopeSe,
        slope_low: fit.slopeLow,
        slope_high: fit.slopeHigh,
        intercept: fit.intercept,
        intercept_se: fit.interceptSe,
        residual_sd: fit.residualSd,
        theil_sen: median.value.slope,
        theil_sen_low: median.value.low,
        theil_sen_high: median.value.high,
        theil_sen_intercept: median.value.intercept,
        mann_kendall_s: rank.value.s,
        mann_kendall_var: rank.value.variance,
        mann_kendall_z: rank.value.z,
        mann_kendall_p: rank.value.p,
        next: foreseen === null ? null : { x: next, ...foreseen },
      },
    },
  });
};
