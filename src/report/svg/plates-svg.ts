import { scaleLinear } from 'd3-scale';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import { element, type Svg, words } from './element.js';
import { INK, picture } from './picture.js';

/** How far each plate has run since its last recorded wash, with its grade in words; plates never washed have run since OK to run. */
export function platesSvg(board: BoardView): string | null {
  const now = board.position.web_m;
  const printing = board.stations.filter((station) => station.kind === 'print');
  if (now === null || printing.length === 0) return null;
  const since = (station: StationView): number => Math.max(0, now - (station.plate.last_wash_m ?? 0));
  const x = scaleLinear([0, Math.max(1, ...printing.map(since))], [0, WIDTH - LEFT - 270]);
  const long = (m: number): string => lengthWords(m, board.units.length, board.repeat_mm);
  const says = (station: StationView): string =>
    `${long(since(station))}${station.plate.last_wash_m === null ? ', no wash recorded' : ''}; ${station.plate.grade ?? 'not graded'}${station.plate.flag === null ? '' : ' !'}`;
  const title = 'Run since the last wash, and grade';
  return picture(
    { id: 'plates', title, description: printing.map((station) => `${station.label}: ${says(station)}`).join('; ') },
    WIDTH,
    TOP + printing.length * ROW + 6,
    [
      words(8, 18, title, { 'font-weight': 'bold' }),
      ...printing.flatMap((station, index) => bar(station, x(since(station)), TOP + index * ROW, says(station))),
    ],
  );
}

const WIDTH = 720;
const [LEFT, TOP, ROW] = [140, 30, 24];

const bar = (station: StationView, width: number, top: number, says: string): readonly Svg[] => [
  words(8, top + 15, station.label.length > 18 ? `${station.label.slice(0, 17)}…` : station.label),
  element('rect', {
    x: LEFT,
    y: top + 4,
    width: Math.max(1, width),
    height: 14,
    fill: station.plate.flag === null ? '#8a8a8a' : INK.turned,
  }),
  words(LEFT + width + 8, top + 15, says),
];
