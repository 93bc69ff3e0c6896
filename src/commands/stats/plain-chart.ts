import type { ChartPoint } from '../../core/spc/chart.js';
import { shown } from './shown.js';

/**
 * A chart in plain characters: `o` a point, `X` a point with a signal, `-` its limits, `.` the centre, `:` the span of
 * points that share a column. Wider records are squeezed, never cut off. One string a line.
 */
export const plainChart = (
  points: readonly ChartPoint[],
  centre: number | null,
  size: { readonly columns: number; readonly rows: number },
): readonly string[] => {
  const drawn = points.filter(({ statistic }) => statistic !== null);
  const levels = drawn
    .flatMap(({ statistic, lower, upper }) => [statistic, lower, upper])
    .concat(centre)
    .filter((level): level is number => level !== null && Number.isFinite(level));
  if (drawn.length < 2 || levels.length === 0) return [];
  const top = Math.max(...levels);
  const bottom = Math.min(...levels);
  if (!(top > bottom)) return [];
  const { rows } = size;
  const rowOf = (level: number): number => Math.round(((top - level) / (top - bottom)) * (rows - 1));
  const perColumn = Math.ceil(points.length / size.columns);
  const columns = Array.from({ length: Math.ceil(points.length / perColumn) }, (_, at) =>
    columnOf(points.slice(at * perColumn, (at + 1) * perColumn), centre, rows, rowOf),
  );
  const labels = new Map([
    [0, shown(top)],
    [rows - 1, shown(bottom)],
  ]);
  if (centre !== null && !labels.has(rowOf(centre))) labels.set(rowOf(centre), shown(centre));
  const wide = Math.max(...[...labels.values()].map((label) => label.length));
  return Array.from({ length: rows }, (_, row) => {
    const cells = columns.map((column) => column[row] ?? ' ').join('');
    return `${(labels.get(row) ?? '').padStart(wide)} |${cells}`.trimEnd();
  });
};

const columnOf = (
  points: readonly ChartPoint[],
  centre: number | null,
  rows: number,
  rowOf: (level: number) => number,
): readonly string[] => {
  const cells = new Array<string>(rows).fill(' ');
  const put = (level: number | null, mark: string): void => {
    if (level !== null && Number.isFinite(level)) cells[rowOf(level)] = mark;
  };
  put(centre, '.');
  for (const { lower, upper } of points) {
    put(lower, '-');
    put(upper, '-');
  }
  const places = points.flatMap(({ statistic }) => (statistic === null ? [] : [rowOf(statistic)]));
  for (let row = Math.min(...places); row <= Math.max(...places); row += 1) cells[row] = ':';
  for (const point of points) put(point.statistic, 'o');
  for (const point of points) if (point.signals.length > 0) put(point.statistic, 'X');
  return cells;
};
