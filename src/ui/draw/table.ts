import type { Axis } from '../../core/axis.js';
import type { BoardView, RegisterState, StationAxisView, StationView } from '../../core/views/board-view.js';
import { registerUnitName, signedNumber } from '../../core/views/number-words.js';
import type { Look } from '../theme.js';
import { canvas } from './canvas.js';
import { type Column, columns } from './columns.js';
import { abnormal, emphasis } from './emphasis.js';
import type { Row, Style } from './row.js';
import { stationMark } from './strip.js';

export type TableBox = { readonly width: number; readonly gutter: number };

/** The line above the strip: stations as the operator says them, the selected one reversed. */
export function labelRow(view: BoardView, box: TableBox, selected: string, look: Look): Row {
  // The mark's shape stands beside the name, as long as every name leaves room for it.
  const marked = columns(view, box.gutter, box.width).every((one) => one.station.label.length + 2 <= one.width);
  return line(view, box, registerUnitName(view.units.register), (column) => ({
    text: labelOf(column.station, view, column.width, look, marked),
    style: column.station.id === selected ? 'field' : 'plain',
  }));
}

/** Readings of one axis, each under its station; the sign convention stands in the gutter. An abnormal one is bracketed. */
export function readingRow(view: BoardView, axis: Axis, box: TableBox): Row {
  return line(view, box, axis === 'along' ? 'along +ahead' : 'across +oper.', (column) => {
    const here = column.station.axes[axis];
    return {
      text: readingWord(column.station, here, view),
      style: emphasis(view, column.station.id, axis, here.state),
    };
  });
}

/** The worse of the two axes' states, in words; which axis, where it is not holding. */
export function stateRow(view: BoardView, box: TableBox): Row {
  return line(view, box, 'state', (column) => {
    const { station } = column;
    if (station.is_reference) return { text: column.width >= 9 ? 'reference' : 'ref.', style: 'plain' };
    if (station.read === 'never') return { text: 'not read', style: 'plain' };
    const { along, across } = station.axes;
    const worse = rank(across.state) > rank(along.state) ? 'across' : 'along';
    const state = station.axes[worse].state;
    const word = stateWord(state);
    const axis = abnormal(state) && column.width >= word.length + worse.length + 1 ? ` ${worse}` : '';
    return { text: word + axis, style: emphasis(view, station.id, worse, state) };
  });
}

/** What is known of each plate: the flag if there is one, else that it was washed, else the last grade. */
export function plateRow(view: BoardView, box: TableBox): Row {
  return line(view, box, 'plate', ({ station }) => {
    if (station.kind === 'die') return { text: '-', style: 'plain' };
    const { flag, grade, washed } = station.plate;
    if (flag === 'dirty') return { text: 'DIRTY', style: 'act' };
    if (flag === 'wash-due') return { text: 'wash due', style: 'act' };
    if (flag === 'building') return { text: 'building', style: 'note' };
    // The grade is that of before the wash until a sample printed since is seen.
    if (washed?.seen === false) return { text: 'washed', style: 'plain' };
    return { text: grade ?? 'not seen', style: 'plain' };
  });
}

/** Which stations trap one another, how far apart they are, and what is allowed. */
export function pairWords(view: BoardView, axis: Axis): readonly string[] {
  const name = (id: string): string => view.stations.find((one) => one.id === id)?.label ?? id;
  const size = (mm: number): string => signedNumber(mm, view.units.register).replace('+', '');
  return view.pairs
    .filter((one) => one.axis === axis)
    .map(
      (one) =>
        `${name(one.stations[0])} traps ${name(one.stations[1])}: ${one.apart_mm === null ? 'not both read' : `${size(Math.abs(one.apart_mm))} apart`}, ${size(one.tolerance_mm)} allowed${one.out ? ', OUT' : ''}`,
    );
}

export const stateWord = (state: RegisterState): string =>
  state === 'not enough readings' ? 'too few' : state === 'out' ? 'OUT' : state;

function readingWord(station: StationView, here: StationAxisView, view: BoardView): string {
  if (station.is_reference) return '-';
  if (here.looked !== null) return here.looked === 'in' ? 'looked' : 'looks off';
  if (here.last_mm === null) return station.read === 'never' ? '-' : 'not read';
  const number = signedNumber(here.last_mm, view.units.register);
  return abnormal(here.state) ? `[${number}]` : number;
}

const rank = (state: RegisterState): number =>
  ['not read', 'holding', 'not enough readings', 'moved', 'drifting', 'out'].indexOf(state);

function labelOf(station: StationView, view: BoardView, width: number, look: Look, marked: boolean): string {
  if (marked) return `${stationMark(station, view, look)} ${station.label}`;
  if (station.label.length <= width) return station.label;
  const short = shortLabel(station.label);
  return short.length <= width ? short : short.slice(0, width);
}

/** "1 opaque white" where there is little room: the number and the last word, which is the colour. */
export function shortLabel(label: string): string {
  const words = label.split(' ');
  return words.length > 2 ? `${words[0] ?? ''} ${words[words.length - 1] ?? ''}` : label;
}

function line(
  view: BoardView,
  box: TableBox,
  title: string,
  cell: (column: Column) => { readonly text: string; readonly style: Style },
): Row {
  const c = canvas(box.width, 1);
  c.put(0, 0, title.slice(0, box.gutter), 'plain');
  for (const column of columns(view, box.gutter, box.width)) {
    const { text, style } = cell(column);
    const cut = text.slice(0, column.width);
    const ideal = column.x - Math.floor(cut.length / 2);
    c.put(Math.max(column.left, Math.min(ideal, column.left + column.width - cut.length)), 0, cut, style);
  }
  return c.rows()[0] ?? [];
}
