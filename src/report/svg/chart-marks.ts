import type { ScaleLinear } from 'd3-scale';
import type { ChartView } from '../../core/views/chart-view.js';
import { element, type Svg, segment, words } from './element.js';
import { INK } from './picture.js';

/** What happened along the web, drawn across a chart: rolls off, stock rolls, stops, washes, corrections, and where the movement began. */
export function chartMarks(
  view: ChartView,
  scales: { readonly x: ScaleLinear<number, number>; readonly y: ScaleLinear<number, number> },
): readonly Svg[] {
  const { x, y } = scales;
  const [top, bottom] = [Math.min(...y.range()), Math.max(...y.range())];
  const upright = (web_m: number, stroke: string, dash: string): Svg =>
    segment(x(web_m), top, x(web_m), bottom, { stroke, 'stroke-dasharray': dash });
  const inside = <T extends { readonly web_m: number }>(marks: readonly T[]): readonly T[] =>
    marks.filter(({ web_m }) => web_m >= view.from_m && web_m <= view.to_m);
  const rolls = inside(view.rolls);
  const named = rolls.length <= MOST_NAMED;
  return [
    ...rolls.flatMap((roll) => [
      upright(roll.web_m, INK.grey, roll.kind === 'finished' ? '2 4' : '8 4'),
      ...(named && roll.roll !== null
        ? [words(x(roll.web_m) - 3, top + 11, roll.roll, { 'text-anchor': 'end', fill: INK.grey, 'font-size': 10 })]
        : []),
    ]),
    ...inside(view.stops).map((stop) => upright(stop.web_m, INK.faint, '1 2')),
    ...inside(view.washes).map((wash) =>
      words(x(wash.web_m), bottom - 4, 'w', { 'text-anchor': 'middle', fill: INK.turned }),
    ),
    ...(view.began_m === null || view.began_m < view.from_m
      ? []
      : [
          upright(view.began_m, INK.out, '4 2'),
          words(x(view.began_m) + 3, bottom - 6, 'began', { fill: INK.out, 'font-size': 10 }),
        ]),
    ...inside(view.corrections).map((turned) =>
      element('path', { d: `M${x(turned.web_m).toFixed(2)},${(bottom - 9).toFixed(2)}l5,9h-10z`, fill: INK.turned }),
    ),
  ];
}

const MOST_NAMED = 30;
