import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { Axis } from '../../core/axis.js';
import type { Places } from '../../core/counter.js';
import type { ChartView } from '../../core/views/chart-view.js';
import { element, type Svg, segment, words } from './element.js';
import { INK, picture } from './picture.js';
import { placeAxis } from './place-axis.js';
import { thinPoints } from './thin-points.js';

export type OverviewRow = { readonly label: string; readonly chart: ChartView };

/** The whole web strip over the run: one row a station in web order, each against its own tolerance, on one scale of web position. */
export function overviewSvg(axis: Axis, rows: readonly OverviewRow[], places: Places): string {
  const from = Math.min(...rows.map(({ chart }) => chart.from_m));
  const to = Math.max(...rows.map(({ chart }) => chart.to_m), from + 1);
  const x = scaleLinear([from, to], [LEFT, WIDTH - 12]);
  const height = TOP + rows.length * ROW + BOTTOM;
  const title = `Every station along the run, ${axis}`;
  const counts = rows.map(
    ({ label, chart }) =>
      `${label}: ${chart.points.length} readings, ${chart.points.filter((point) => isOut(point, chart)).length} out of tolerance`,
  );
  return picture({ id: `overview-${axis}`, title, description: counts.join('; ') }, WIDTH, height, [
    words(8, 18, title, { 'font-weight': 'bold' }),
    ...rows.flatMap((row, index) => rowMarks(row, TOP + index * ROW, x)),
    ...placeAxis(x, height - BOTTOM + 6, places),
    ...rollLines(rows[0]?.chart.rolls ?? [], x, height),
  ]);
}

const WIDTH = 720;
const [LEFT, TOP, ROW, BOTTOM] = [120, 28, 44, 34];

const isOut = (point: ChartView['points'][number], chart: ChartView): boolean =>
  !point.withdrawn && Math.abs(point.mm) > chart.tolerance_mm;

function rowMarks({ label, chart }: OverviewRow, top: number, x: (m: number) => number): readonly Svg[] {
  const tolerance = Number.isFinite(chart.tolerance_mm) ? chart.tolerance_mm : 1;
  const far = tolerance * 1.6;
  const y = scaleLinear(
    [-far, far],
    chart.axis === 'along' ? [top + ROW - 4, top + 4] : [top + 4, top + ROW - 4],
  ).clamp(true);
  const ends = [y(-tolerance), y(tolerance)];
  const points = thinPoints(
    chart.points.filter((point) => !point.withdrawn),
    WIDTH / 2,
  );
  const path = line<ChartView['points'][number]>(
    (point) => x(point.web_m),
    (point) => y(point.mm),
  ).digits(2)(points);
  return [
    words(8, top + ROW / 2 + 4, label.length > 18 ? `${label.slice(0, 17)}…` : label),
    element('rect', {
      x: LEFT,
      y: Math.min(...ends),
      width: WIDTH - 12 - LEFT,
      height: Math.abs((ends[1] ?? 0) - (ends[0] ?? 0)),
      fill: INK.band,
    }),
    segment(LEFT, y(0), WIDTH - 12, y(0), { stroke: INK.faint }),
    ...(path === null
      ? [words(LEFT + 8, top + ROW / 2 + 4, 'no readings', { fill: INK.grey })]
      : [element('path', { d: path, fill: 'none', stroke: INK.level })]),
    ...points
      .filter((point) => isOut(point, chart))
      .map((point) =>
        element('path', {
          d: `M${x(point.web_m).toFixed(2)},${y(point.mm).toFixed(2)}m-3,-3l6,6m0,-6l-6,6`,
          stroke: INK.out,
          'stroke-width': 2,
          fill: 'none',
        }),
      ),
    ...chart.corrections.map((turned) =>
      element('path', { d: `M${x(turned.web_m).toFixed(2)},${top + ROW - 8}l4,7h-8z`, fill: INK.turned }),
    ),
  ];
}

/** Finished rolls across all rows; a long run has so many that they would hide the readings: then none is drawn. */
const rollLines = (rolls: ChartView['rolls'], x: (m: number) => number, height: number): readonly Svg[] => {
  const off = rolls.filter((roll) => roll.kind === 'finished');
  return off.length > MOST_ROLLS
    ? []
    : off.map((roll) =>
        segment(x(roll.web_m), TOP, x(roll.web_m), height - BOTTOM, { stroke: INK.grey, 'stroke-dasharray': '2 4' }),
      );
};

const MOST_ROLLS = 24;
