import { scaleLinear } from 'd3-scale';
import type { Axis } from '../../core/axis.js';
import type { BoardView, StationAxisView, StationView } from '../../core/views/board-view.js';
import { registerUnitHeading, registerUnitName, signedNumber } from '../../core/views/number-words.js';
import { element, type Svg, segment, words } from './element.js';
import { INK, picture } from './picture.js';

/**
 * Every station at its place along the web path, its last reading as height against its own tolerance: one mark off the line is a station,
 * all but the reference off alike is the reference, a slope that grows with distance is the web.
 */
export function stripSvg(board: BoardView, axis: Axis): string {
  const runsLeft = board.web_runs === 'right-to-left';
  const places = board.stations.map((station) => station.at_m);
  const ends = [Math.min(...places), Math.max(...places)];
  const x = scaleLinear(
    ends[0] === ends[1] ? [(ends[0] ?? 0) - 1, (ends[1] ?? 0) + 1] : ends,
    runsLeft ? [WIDTH - SIDE, LEFT] : [LEFT, WIDTH - SIDE],
  );
  const far = farOf(board.stations.filter(isRead).map((station) => station.axes[axis]));
  const y = scaleLinear([-far, far], axis === 'along' ? [HEIGHT - BOTTOM, TOP] : [TOP, HEIGHT - BOTTOM]);
  const title = `Stations in web order, ${axis}, ${registerUnitHeading(board.units.register)}`;
  const [up, down] = axis === 'along' ? ['ahead', 'behind'] : ['gear side', 'operator side'];
  return picture({ id: `strip-${axis}`, title, description: describe(board, axis) }, WIDTH, HEIGHT, [
    words(8, 18, title, { 'font-weight': 'bold' }),
    words(8, TOP + 6, `${up} ↑`, { fill: INK.grey }),
    words(8, HEIGHT - BOTTOM, `${down} ↓`, { fill: INK.grey }),
    segment(LEFT - 20, y(0), WIDTH - 12, y(0), { stroke: INK.grey }),
    ...board.stations.flatMap((station, index) => marks(station, axis, x(station.at_m), y, board, index)),
  ]);
}

const WIDTH = 720;
const HEIGHT = 200;
const [LEFT, SIDE, TOP, BOTTOM] = [110, 62, 34, 46];

/** High enough for every reading and for the tightest tolerance; a much wider tolerance (the die's) may lie off the picture. */
function farOf(axes: readonly StationAxisView[]): number {
  const tightest = Math.min(1, ...axes.map((axis) => axis.tolerance_mm));
  return Math.max(tightest, ...axes.map((axis) => Math.abs(axis.last_mm ?? 0)), 0.02) * 1.25;
}

const isRead = (station: StationView): boolean => station.read !== 'never' && !station.is_reference;

function marks(
  station: StationView,
  axis: Axis,
  x: number,
  y: (mm: number) => number,
  board: BoardView,
  index: number,
): readonly Svg[] {
  const { last_mm, tolerance_mm, looked } = station.axes[axis];
  const name = words(x, HEIGHT - BOTTOM + 18 + (index % 2) * 14, shortened(station.label), {
    'text-anchor': 'middle',
    'font-size': 11,
  });
  if (station.is_reference)
    return [
      element('rect', { x: x - 5, y: y(0) - 5, width: 10, height: 10, fill: INK.black }),
      words(x, y(0) - 10, 'reference', { 'text-anchor': 'middle', fill: INK.grey, 'font-size': 10 }),
      name,
    ];
  if (!isRead(station))
    return [words(x, y(0) - 6, 'no mark', { 'text-anchor': 'middle', fill: INK.grey, 'font-size': 10 }), name];
  const inside = y(tolerance_mm) > TOP && y(tolerance_mm) < HEIGHT - BOTTOM;
  const limits = inside
    ? [-1, 1].map((side) =>
        segment(x - 14, y(side * tolerance_mm), x + 14, y(side * tolerance_mm), {
          stroke: INK.grey,
          'stroke-dasharray': '4 2',
        }),
      )
    : [];
  const off =
    inside || !Number.isFinite(tolerance_mm)
      ? []
      : [
          words(x, TOP + 2, `allowed ± ${signedNumber(tolerance_mm, board.units.register).replace('+', '')}`, {
            'text-anchor': 'middle',
            fill: INK.grey,
            'font-size': 10,
          }),
        ];
  if (last_mm === null)
    return [
      ...limits,
      ...off,
      words(x, y(0) - 6, looked === null ? 'not read' : `looked, ${looked}`, {
        'text-anchor': 'middle',
        fill: INK.grey,
        'font-size': 10,
      }),
      name,
    ];
  const out = Math.abs(last_mm) > tolerance_mm;
  const shape = out
    ? element('path', {
        d: `M${(x - 5).toFixed(2)},${(y(last_mm) - 5).toFixed(2)}l10,10m0,-10l-10,10`,
        stroke: INK.out,
        'stroke-width': 3,
        fill: 'none',
      })
    : element('circle', { cx: x, cy: y(last_mm), r: 5, fill: INK.level });
  return [
    ...limits,
    ...off,
    segment(x, y(0), x, y(last_mm), { stroke: INK.level }),
    shape,
    words(x + 9, y(last_mm) + 4, signedNumber(last_mm, board.units.register), { 'font-size': 11, ...HALO }),
    name,
  ];
}

/** Words over a line stay readable. */
const HALO = { stroke: '#ffffff', 'stroke-width': 3, 'paint-order': 'stroke' };

const shortened = (label: string): string => (label.length > 16 ? `${label.slice(0, 15)}…` : label);

function describe(board: BoardView, axis: Axis): string {
  const unit = registerUnitName(board.units.register);
  return board.stations
    .map((station) => {
      const { last_mm, state } = station.axes[axis];
      if (station.is_reference) return `${station.label}: reference`;
      return last_mm === null
        ? `${station.label}: ${state}`
        : `${station.label}: ${signedNumber(last_mm, board.units.register)} ${unit}, ${state}`;
    })
    .join('; ');
}
