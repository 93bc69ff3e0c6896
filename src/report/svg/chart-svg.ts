import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { type Places, placeWords } from '../../core/counter.js';
import { type RegisterUnit, registerFromMm, registerToMm } from '../../core/units.js';
import type { ChartView } from '../../core/views/chart-view.js';
import { registerUnitHeading, registerUnitName, signedNumber } from '../../core/views/number-words.js';
import { chartMarks } from './chart-marks.js';
import { element, type Svg, segment, words } from './element.js';
import { INK, idOf, picture } from './picture.js';
import { placeAxis } from './place-axis.js';
import { thinPoints } from './thin-points.js';

/** How a chart speaks: the station's name and the job's units. */
export type ChartWords = Places & { readonly label: string; readonly register: RegisterUnit };

export const PLOT = { width: 720, height: 260, left: 64, right: 12, top: 30, bottom: 44 } as const;

export type ChartScales = { readonly x: ScaleLinear<number, number>; readonly y: ScaleLinear<number, number> };

/** One station and axis along the web as a picture, everything as distance from the aim: readings, level, tolerance, rolls, corrections and where it is heading. */
export function chartSvg(view: ChartView, given?: ChartWords): string {
  const chart = given ?? { label: `station ${view.station}`, register: 'mm', length: 'm', repeat_mm: 1000 };
  const scales = scalesOf(view, chart);
  const title = `${chart.label}, ${view.axis}, ${registerUnitHeading(chart.register)}`;
  const points = thinPoints(view.points, PLOT.width);
  return picture(
    { id: idOf('chart', view.station, view.axis), title, description: describe(view, chart) },
    PLOT.width,
    PLOT.height,
    [
      words(PLOT.left, 18, title, { 'font-weight': 'bold' }),
      ...band(view, scales),
      ...axes(view, scales, chart),
      ...chartMarks(view, scales),
      ...cone(view, scales),
      ...level(view, scales),
      ...points.map((point) => dot(point, view, scales)),
      ...(points.length === 0 ? [words(PLOT.left + 12, PLOT.height / 2, 'No readings in this stretch.')] : []),
    ],
  );
}

function scalesOf(view: ChartView, chart: ChartWords): ChartScales {
  const far = [
    view.tolerance_mm * 1.25,
    ...view.points.map((point) => Math.abs(point.mm)),
    ...view.cone.flatMap((at) => [Math.abs(at.low_mm), Math.abs(at.high_mm)]),
  ];
  const reach = largest(far) || 0.1;
  const ends = [-reach, reach].map((mm) => registerFromMm(mm, chart.register));
  const to = Math.max(view.to_m, view.from_m + 1, ...view.cone.map((at) => at.web_m));
  const y = scaleLinear(
    ends,
    view.axis === 'along' ? [PLOT.height - PLOT.bottom, PLOT.top] : [PLOT.top, PLOT.height - PLOT.bottom],
  ).nice(5);
  const x = scaleLinear([view.from_m, to], [PLOT.left, PLOT.width - PLOT.right]);
  const inMm = y.copy().domain(y.domain().map((value) => registerToMm(value, chart.register)));
  return { x, y: inMm };
}

/** Not by spread: a sensor run has more points than a call may have arguments. */
const largest = (values: readonly number[]): number =>
  values.reduce((most, value) => (Number.isFinite(value) && value > most ? value : most), 0);

function band(view: ChartView, { x, y }: ChartScales): readonly Svg[] {
  if (!Number.isFinite(view.tolerance_mm)) return [];
  const [left, right] = [x.range()[0] ?? 0, x.range()[1] ?? 0];
  const ends = [y(-view.tolerance_mm), y(view.tolerance_mm)];
  const top = Math.min(...ends);
  return [
    element('rect', { x: left, y: top, width: right - left, height: Math.max(...ends) - top, fill: INK.band }),
    ...ends.map((at) => segment(left, at, right, at, { stroke: INK.grey, 'stroke-dasharray': '6 3' })),
  ];
}

function axes(view: ChartView, { x, y }: ChartScales, chart: ChartWords): readonly Svg[] {
  const [left, right] = [x.range()[0] ?? 0, x.range()[1] ?? 0];
  const bottom = PLOT.height - PLOT.bottom;
  const shownY = y.copy().domain(y.domain().map((mm) => registerFromMm(mm, chart.register)));
  const [up, down] = view.axis === 'along' ? ['ahead ↑', 'behind ↓'] : ['gear side ↑', 'operator side ↓'];
  return [
    segment(left, bottom, right, bottom, { stroke: INK.grey }),
    segment(left, y(0), right, y(0), { stroke: INK.grey }),
    ...shownY.ticks(5).map((value) =>
      words(left - 6, shownY(value) + 4, signedNumber(registerToMm(value, chart.register), chart.register), {
        'text-anchor': 'end',
      }),
    ),
    ...placeAxis(x, bottom, chart),
    words(right, 18, `${up}  ${down}`, { 'text-anchor': 'end', fill: INK.grey }),
    words(
      left,
      PLOT.height - 8,
      '● reading  × out  ○ taken back  — level  ▲ knob turned  ┆ roll off  ░ where it is heading',
      { fill: INK.grey, 'font-size': 11 },
    ),
  ];
}

function level(view: ChartView, { x, y }: ChartScales): readonly Svg[] {
  const path = line<ChartView['trend'][number]>(
    (at) => x(at.web_m),
    (at) => y(at.mm),
  ).digits(2)(thinPoints(view.trend, PLOT.width));
  return path === null ? [] : [element('path', { d: path, fill: 'none', stroke: INK.level, 'stroke-width': 2 })];
}

function cone(view: ChartView, { x, y }: ChartScales): readonly Svg[] {
  const shape = area<ChartView['cone'][number]>(
    (at) => x(at.web_m),
    (at) => y(at.low_mm),
    (at) => y(at.high_mm),
  ).digits(2)(view.cone);
  const middle = line<ChartView['cone'][number]>(
    (at) => x(at.web_m),
    (at) => y(at.mean_mm),
  ).digits(2)(view.cone);
  if (shape === null || middle === null) return [];
  return [
    element('path', { d: shape, fill: INK.faint, stroke: 'none' }),
    element('path', { d: middle, fill: 'none', stroke: INK.level, 'stroke-dasharray': '3 3' }),
  ];
}

function dot(point: ChartView['points'][number], view: ChartView, { x, y }: ChartScales): Svg {
  const [cx, cy] = [x(point.web_m), y(point.mm)];
  if (point.withdrawn) return element('circle', { cx, cy, r: 3.5, fill: 'none', stroke: INK.grey });
  if (Math.abs(point.mm) > view.tolerance_mm)
    return element('path', {
      d: `M${cx.toFixed(2)},${cy.toFixed(2)}m-4,-4l8,8m0,-8l-8,8`,
      fill: 'none',
      stroke: INK.out,
      'stroke-width': 2,
    });
  return element('circle', { cx, cy, r: point.sensor ? 1.5 : 3, fill: INK.black });
}

function describe(view: ChartView, chart: ChartWords): string {
  const read = view.points.filter((point) => !point.withdrawn);
  const last = read[read.length - 1];
  const out = read.filter((point) => Math.abs(point.mm) > view.tolerance_mm).length;
  const at = (m: number): string => placeWords(m, chart);
  if (last === undefined) return `No readings from ${at(view.from_m)} to ${at(view.to_m)}.`;
  const unit = registerUnitName(chart.register);
  return `${read.length} readings from ${at(view.from_m)} to ${at(view.to_m)}, ${out} out of tolerance; the last ${signedNumber(last.mm, chart.register)} ${unit} at ${at(last.web_m)}; ${view.corrections.length} corrections.`;
}
