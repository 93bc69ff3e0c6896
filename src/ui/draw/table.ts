import type { Axis } from '../../core/axis.js';
import type { BoardView, RegisterState, StationAxisView, StationView } from '../../core/views/board-view.js';
import { registerUnitName, signedNumber } from '../../core/views/number-words.js';
import type { Look } from '../theme.js';
import { canvas } from './canvas.js';
import { type Column, columns } from './columns.js';
import { abnormal, emphasis } from './emphasis.js';
import { type Row, run, type Style } from './row.js';
import { grouped, plateIn, plateWordOf, referenceIn, stateIn, stateWord } from './state-words.js';
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
      text: fitting(readingWord(column.station, here, view), column.width),
      style: emphasis(view, column.station.id, axis, here.state),
    };
  });
}

/** The worse of the two axes' states, in words; which axis, where it is not holding. Where the words do not fit, a sentence says it. */
export function stateRow(view: BoardView, box: TableBox): Row {
  const cols = columns(view, box.gutter, box.width);
  const cells = cols.map((column) => {
    const { station } = column;
    if (station.is_reference)
      return { column, word: referenceIn(column.width), full: 'reference', style: 'plain' as Style };
    const { along, across } = station.axes;
    const worse = rank(across.state) > rank(along.state) ? 'across' : 'along';
    const state = station.read === 'never' ? 'not read' : station.axes[worse].state;
    const word = stateIn(state, column.width);
    const axis = abnormal(state) ? ` ${worse}` : '';
    const fits = word !== null && (word + axis).length <= column.width;
    const style: Style = station.read === 'never' ? 'plain' : emphasis(view, station.id, worse, state);
    return { column, word: fits ? word + axis : word, full: stateWord(state) + axis, style };
  });
  return cells.every((one) => one.word !== null)
    ? inColumns(box, 'state', cells)
    : sentence(
        box,
        'state',
        cells.filter((one) => !one.column.station.is_reference),
      );
}

/** What is known of each plate: the flag if there is one, else that it was washed, else the last grade. */
export function plateRow(view: BoardView, box: TableBox): Row {
  const cols = columns(view, box.gutter, box.width);
  const cells = cols.map((column) => {
    const { station } = column;
    if (station.kind === 'die') return { column, word: '-', full: '-', style: 'plain' as Style };
    const full = plateWordOf(station.plate);
    const { flag } = station.plate;
    const style: Style = flag === 'dirty' ? 'act' : flag !== null ? 'note' : 'plain';
    return { column, word: plateIn(full, column.width), full, style };
  });
  return cells.every((one) => one.word !== null)
    ? inColumns(box, 'plate', cells)
    : sentence(
        box,
        'plate',
        cells.filter((one) => one.column.station.kind !== 'die'),
      );
}

type Cell = { readonly column: Column; readonly word: string | null; readonly full: string; readonly style: Style };

const sentence = (box: TableBox, title: string, cells: readonly Cell[]): Row => {
  const loud = cells.find((one) => one.style !== 'plain')?.style ?? 'plain';
  const said = grouped(
    cells.map(({ column, full }) => ({ id: column.station.id, word: full })),
    box.width - box.gutter,
  );
  return [run(title.padEnd(box.gutter)), run(said, loud)];
};

const inColumns = (box: TableBox, title: string, cells: readonly Cell[]): Row =>
  put(
    box,
    title,
    cells.map(({ column, word, style }) => ({ column, text: word ?? '', style })),
  );

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

function readingWord(station: StationView, here: StationAxisView, view: BoardView): string {
  if (station.is_reference) return '-';
  if (here.looked !== null) return here.looked === 'in' ? 'looked' : 'looks off';
  if (here.last_mm === null) return station.read === 'never' ? '-' : 'not read';
  const number = signedNumber(here.last_mm, view.units.register);
  return abnormal(here.state) ? `[${number}]` : number;
}

/** A reading where its column is narrow: without brackets (the state says it), then without the zero before the point; never a digit cut. */
const fitting = (text: string, width: number): string =>
  [text, SHORT[text] ?? text, text.replace(/[[\]]/g, ''), text.replace(/[[\]]/g, '').replace(/0(?=\.)/, '')].find(
    (one) => one.length <= width,
  ) ?? '*';

const SHORT: Readonly<Record<string, string>> = { 'not read': 'unread', looked: 'seen', 'looks off': 'OFF' };

const rank = (state: RegisterState): number =>
  ['not read', 'holding', 'not enough readings', 'moved', 'drifting', 'out'].indexOf(state);

function labelOf(station: StationView, view: BoardView, width: number, look: Look, marked: boolean): string {
  if (marked) return `${stationMark(station, view, look)} ${station.label}`;
  if (station.label.length <= width) return station.label;
  const short = shortLabel(station.label);
  if (short.length <= width) return short;
  // Its place on the press is what cannot be missed; half a word tells nobody anything.
  return station.id.length <= width ? station.id : station.id.slice(0, width);
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
  return put(
    box,
    title,
    columns(view, box.gutter, box.width).map((column) => ({ column, ...cell(column) })),
  );
}

function put(
  box: TableBox,
  title: string,
  cells: readonly { readonly column: Column; readonly text: string; readonly style: Style }[],
): Row {
  const c = canvas(box.width, 1);
  c.put(0, 0, title.slice(0, box.gutter), 'plain');
  for (const { column, text, style } of cells) {
    const cut = text.slice(0, column.width);
    const ideal = column.x - Math.floor(cut.length / 2);
    c.put(Math.max(column.left, Math.min(ideal, column.left + column.width - cut.length)), 0, cut, style);
  }
  return c.rows()[0] ?? [];
}
