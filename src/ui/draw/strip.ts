import type { Axis } from '../../core/axis.js';
import type { BoardView, EventView, StationView } from '../../core/views/board-view.js';
import { signedNumber } from '../../core/views/number-words.js';
import { glyphs, type Look } from '../theme.js';
import { canvas } from './canvas.js';
import { type Column, columns } from './columns.js';
import { emphasis } from './emphasis.js';
import type { Row, Style } from './row.js';

export type StripBox = { readonly width: number; readonly rows: number; readonly gutter: number };

/** Register minus aim as just typed, by station; while a check is keyed these marks stand for the last readings. */
export type Typed = ReadonlyMap<string, number>;

/**
 * The web strip: the press as the web runs, each station's register as its height between its own tolerance lines.
 * Along: ahead up. Across: gear side up, operator side down, as one stands at the press.
 */
export function drawStrip(
  view: BoardView,
  axis: Axis,
  box: StripBox,
  look: Look,
  typed: Typed | null = null,
): readonly Row[] {
  const g = glyphs(look);
  const c = canvas(box.width, box.rows);
  const cols = columns(view, box.gutter, box.width);
  const scale = stripScale(view, axis, box.rows);
  const zero = scale.row(0);
  for (let x = box.gutter; x < box.width; x += 1) c.put(x, zero, g.zero, 'faint');
  drawGutter(view, axis, scale, box, c.put);
  const shape = shapeOf(view, axis);
  if (shape !== null) drawShape(shape, axis, cols, scale, g.shape, c.put);
  for (const column of cols) {
    drawTolerance(column, axis, scale, box, view, g.tolerance, c.put);
    drawNext(column, axis, scale, look, typed, c.put);
    drawNow(column, axis, scale, look, typed, view, c.put);
  }
  return c.rows();
}

export type StripScale = { readonly span_mm: number; readonly row: (mm: number) => number };

/** One millimetre scale for all stations, from the print stations' tolerance; wider ones (the die) run off it. */
export function stripScale(view: BoardView, axis: Axis, rows: number): StripScale {
  const prints = view.stations.filter((one) => one.kind === 'print' && one.read === 'measure');
  const limits = (prints.length > 0 ? prints : view.stations)
    .map((one) => one.axes[axis].tolerance_mm)
    .filter((mm) => Number.isFinite(mm) && mm > 0);
  const span_mm = Math.max(0.01, ...limits) * HEADROOM;
  const up = axis === 'along' ? 1 : -1;
  return {
    span_mm,
    row: (mm) => Math.max(0, Math.min(rows - 1, Math.round(((span_mm - up * mm) / (2 * span_mm)) * (rows - 1)))),
  };
}

/** The limit that the strip is drawn for, mm. */
const limitOf = (scale: StripScale): number => scale.span_mm / HEADROOM;

/** A station whose own limit is wider than the strip (the die) is drawn against that: as high as its share of it. */
const ownScale = (mm: number, tolerance_mm: number, scale: StripScale): number =>
  Number.isFinite(tolerance_mm) && tolerance_mm > scale.span_mm ? (mm / tolerance_mm) * limitOf(scale) : mm;

const HEADROOM = 1.4;

type Put = (x: number, y: number, text: string, style?: Style) => void;

/** Row of a reading: never drawn on the wrong side of its own tolerance line for want of rows. */
function rowOf(mm: number, tolerance_mm: number, scale: StripScale, rows: number): number {
  const line = scale.row(Math.sign(mm) * tolerance_mm);
  const here = scale.row(mm);
  const centre = scale.row(0);
  if (Math.abs(tolerance_mm) > scale.span_mm || line === centre) return here;
  const outward = Math.sign(line - centre);
  if (Math.abs(mm) > tolerance_mm) return clampRow((here - line) * outward < 1 ? line + outward : here, rows);
  return (here - line) * outward >= 0 ? line - outward : here;
}

const clampRow = (y: number, rows: number): number => Math.max(0, Math.min(rows - 1, y));

function drawGutter(view: BoardView, axis: Axis, scale: StripScale, box: StripBox, put: Put): void {
  const unit = view.units.register;
  const tolerance_mm = limitOf(scale);
  const [plus, minus] = axis === 'along' ? ['ahead', 'behind'] : ['operator', 'gear'];
  const put_ = (mm: number, word: string): void => {
    const number = signedNumber(Math.abs(mm), unit).replace('+', '');
    put(0, scale.row(mm), beside(word, number, box.gutter - 1));
  };
  put_(tolerance_mm, plus);
  put_(-tolerance_mm, minus);
  put_(0, axis);
}

/** The open movement that matters most on this axis. */
function shapeOf(view: BoardView, axis: Axis): EventView | null {
  const open = view.events.filter((one) => one.open && one.axis === axis);
  return open.find((one) => one.severity === 'out') ?? open.find((one) => one.severity === 'act') ?? open[0] ?? null;
}

function drawShape(
  event: EventView,
  axis: Axis,
  cols: readonly Column[],
  scale: StripScale,
  mark: string,
  put: Put,
): void {
  const shift = new Map(event.shifts_mm.map((one) => [one.station, one.mm]));
  const heights = cols
    .map((column) => ({ x: column.x, mm: column.station.is_reference ? 0 : (shift.get(column.station.id) ?? 0) }))
    .sort((a, b) => a.x - b.x);
  for (let i = 1; i < heights.length; i += 1) {
    const from = heights[i - 1];
    const to = heights[i];
    if (from === undefined || to === undefined) continue;
    for (let x = from.x; x <= to.x; x += 1) {
      const mm = from.mm + ((to.mm - from.mm) * (x - from.x)) / Math.max(1, to.x - from.x);
      const y = scale.row(mm);
      if (y !== scale.row(0)) put(x, y, mark, event.axis === axis ? 'strong' : 'plain');
    }
  }
}

/** A word at the left and its number at the right; where there is no room for both the word gives way, never a digit. */
function beside(word: string, number: string, width: number): string {
  const short = word === 'operator' ? 'oper.' : '';
  const said = [word, short].find((one) => one.length + 1 + number.length <= width) ?? '';
  return `${said.padEnd(Math.max(0, width - number.length))}${number}`;
}

function drawTolerance(
  column: Column,
  axis: Axis,
  scale: StripScale,
  box: StripBox,
  view: BoardView,
  mark: string,
  put: Put,
): void {
  const { station } = column;
  if (station.is_reference || station.read !== 'measure') return;
  const mm = station.axes[axis].tolerance_mm;
  if (!Number.isFinite(mm)) return;
  if (mm > scale.span_mm) {
    // Wider than the others: its limit stands on the line of theirs, as its number, and it is drawn against that.
    const words = signedNumber(mm, view.units.register).replace('+', '');
    const left = Math.min(column.x - Math.floor(words.length / 2), box.width - words.length);
    for (const side of [1, -1]) put(left, scale.row(side * limitOf(scale)), words);
    return;
  }
  const wide = Math.min(5, column.width);
  for (const side of [1, -1]) put(column.x - Math.floor(wide / 2), scale.row(side * mm), mark.repeat(wide));
}

function drawNext(column: Column, axis: Axis, scale: StripScale, look: Look, typed: Typed | null, put: Put): void {
  const { next, tolerance_mm } = column.station.axes[axis];
  if (next === null || typed !== null || column.station.is_reference) return;
  const g = glyphs(look);
  const x = column.x + 2;
  const own = (mm: number): number => ownScale(mm, tolerance_mm, scale);
  const ends = [scale.row(own(next.low_mm)), scale.row(own(next.high_mm))].sort((a, b) => a - b);
  for (let y = ends[0] ?? 0; y <= (ends[1] ?? 0); y += 1) put(x, y, g.interval);
  put(x, scale.row(own(next.mean_mm)), g.next);
}

function drawNow(
  column: Column,
  axis: Axis,
  scale: StripScale,
  look: Look,
  typed: Typed | null,
  view: BoardView,
  put: Put,
): void {
  const { station } = column;
  const g = glyphs(look);
  const here = station.axes[axis];
  if (station.is_reference) {
    put(column.x, scale.row(0), g.reference, 'strong');
    return;
  }
  const keyed = typed?.get(station.id);
  const mm = keyed ?? here.last_mm;
  if (mm === null) {
    put(column.x, scale.row(0), g.looked, 'faint');
    return;
  }
  const rows = scale.row(-scale.span_mm * (axis === 'along' ? 1 : -1)) + 1;
  const shown = ownScale(mm, here.tolerance_mm, scale);
  const y = rowOf(shown, shown === mm ? here.tolerance_mm : limitOf(scale), scale, rows);
  const style = styleOf(station, axis, mm, typed, keyed !== undefined, view);
  put(column.x, y, stationMark(station, view, look), style);
  if (Math.abs(shown) > scale.span_mm) put(column.x - 1, y, y === 0 ? g.above : g.below, style);
}

function styleOf(
  station: StationView,
  axis: Axis,
  mm: number,
  typed: Typed | null,
  keyed: boolean,
  view: BoardView,
): Style {
  const here = station.axes[axis];
  if (typed !== null && !keyed) return 'faint';
  if (Math.abs(mm) > here.tolerance_mm) return 'out';
  if (keyed) return 'strong';
  return emphasis(view, station.id, axis, here.state);
}

/** Print, die, and the two halves of a pair that traps, by shape. */
export function stationMark(station: StationView, view: Pick<BoardView, 'stations'>, look: Look): string {
  const g = glyphs(look);
  if (station.is_reference) return g.reference;
  if (station.kind === 'die') return g.die;
  const other = station.traps_with[0];
  if (other === undefined) return g.print;
  const order = view.stations.map((one) => one.id);
  return order.indexOf(station.id) < order.indexOf(other) ? g.trapFirst : g.trapSecond;
}
