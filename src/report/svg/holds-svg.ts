import { scaleLinear } from 'd3-scale';
import { type Places, placeWords } from '../../core/counter.js';
import type { HoldSpan } from '../../core/views/handover-view.js';
import { rollsWords } from '../telling.js';
import { element, type Svg, segment, words } from './element.js';
import { INK, picture } from './picture.js';
import { placeAxis } from './place-axis.js';

/** Where along the run the product to hold lies; hatched as well as coloured, an open end with an arrow. */
export function holdsSvg(
  holds: readonly HoldSpan[],
  run: { readonly from_m: number; readonly to_m: number },
  places: Places,
): string {
  const from = Math.min(run.from_m, ...holds.map((hold) => hold.from_m));
  const to = Math.max(run.to_m, from + 1, ...holds.map((hold) => hold.to_m ?? hold.from_m));
  const x = scaleLinear([from, to], [24, WIDTH - 40]);
  const at = (m: number): string => placeWords(m, places);
  const height = TOP + holds.length * ROW + BOTTOM;
  const description = holds
    .map(
      (hold) =>
        `${rollsWords(hold.rolls)}: after ${at(hold.from_m)} ${hold.to_m === null ? 'and still going on' : `up to ${at(hold.to_m)}`}`,
    )
    .join('; ');
  return picture({ id: 'holds', title: 'Product to hold along the run', description }, WIDTH, height, [
    element(
      'defs',
      {},
      element(
        'pattern',
        { id: 'hatch', width: 8, height: 8, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
        element('rect', { width: 8, height: 8, fill: INK.held }),
        segment(0, 0, 0, 8, { stroke: INK.turned, 'stroke-width': 2 }),
      ),
    ),
    words(8, 18, 'Product to hold along the run', { 'font-weight': 'bold' }),
    ...holds.flatMap((hold, index) => span(hold, x(hold.from_m), x(hold.to_m ?? to), TOP + index * ROW)),
    segment(24, height - BOTTOM, WIDTH - 40, height - BOTTOM, { stroke: INK.grey }),
    ...placeAxis(x, height - BOTTOM, places),
  ]);
}

const WIDTH = 720;
const [TOP, ROW, BOTTOM] = [30, 44, 30];

function span(hold: HoldSpan, left: number, right: number, top: number): readonly Svg[] {
  const width = Math.max(3, right - left);
  const late = left > WIDTH / 2;
  return [
    element('rect', { x: left, y: top + 16, width, height: 20, fill: 'url(#hatch)', stroke: INK.turned }),
    ...(hold.to_m === null
      ? [element('path', { d: `M${(left + width).toFixed(2)},${top + 12}l14,14l-14,14z`, fill: INK.turned })]
      : []),
    words(
      late ? left + width : left,
      top + 12,
      `${rollsWords(hold.rolls)}${hold.to_m === null ? ', still going on' : ''}`,
      { 'text-anchor': late ? 'end' : 'start' },
    ),
  ];
}
