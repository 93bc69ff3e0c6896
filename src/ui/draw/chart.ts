import { type Places, placeWords } from '../../core/counter.js';
import type { RegisterUnit } from '../../core/units.js';
import type { ChartView } from '../../core/views/chart-view.js';
import { signedNumber } from '../../core/views/number-words.js';
import { glyphs, type Look } from '../theme.js';
import { dotGrid } from './braille.js';
import { type Canvas, canvas } from './canvas.js';
import { type PlaceAlong, placeAlong } from './place-along.js';
import type { Row } from './row.js';

export type ChartBox = { readonly width: number; readonly rows: number; readonly gutter: number };

export type ChartUnits = Places & { readonly register: RegisterUnit };

/** Rows from which single readings are drawn as marks with the smoothed level beside them; below that, as fine dots alone. */
const ROOMY_ROWS = 6;

/**
 * Register of one station and axis along the web: readings, smoothed level, limits, tolerance, where the movement began,
 * the cone toward the limit, and what was done: rolls, knobs, washes, stops, speeds. `by` roll: each finished roll equally wide.
 */
export function drawChart(
  view: ChartView,
  box: ChartBox,
  units: ChartUnits,
  by: 'web' | 'roll',
  look: Look,
): readonly Row[] {
  const feet = box.rows >= 5 ? 1 : 0;
  const height = box.rows - feet;
  const width = box.width - box.gutter;
  if (height < 1 || width < 8) return [];
  const c = canvas(box.width, box.rows);
  const span_mm = chartSpan(view);
  const scale: Scale = {
    x: placeAlong(view, by, width),
    // Readings come less their aim already: the aim is the middle.
    y: (mm) => ((span_mm - mm) / (2 * span_mm)) * (height - 1),
    height,
    left: box.gutter,
    width,
  };
  drawLines(view, c, scale, units, look);
  drawCone(view, c, scale, look);
  drawUprights(view, c, scale, look);
  if (height >= ROOMY_ROWS) drawTrend(view, c, scale, look);
  drawPoints(view, c, scale, look);
  drawActs(view, c, scale, look);
  if (feet > 0) drawFoot(view, c, box, scale, units, by);
  if (view.points.length === 0) c.put(box.gutter + 2, Math.max(0, Math.floor(height / 2) - 1), 'no reading yet');
  return c.rows();
}

type Scale = {
  readonly x: PlaceAlong;
  readonly y: (mm: number) => number;
  readonly height: number;
  readonly left: number;
  readonly width: number;
};

/** Half height of the chart, mm: the tolerance and every reading in sight, with a little air. */
export function chartSpan(view: ChartView): number {
  const sizes = view.points
    .filter((one) => !one.withdrawn && one.web_m >= view.from_m && one.web_m <= view.to_m)
    .map((one) => Math.abs(one.mm));
  const tolerance = Number.isFinite(view.tolerance_mm) ? view.tolerance_mm : 0;
  return Math.max(tolerance * 1.15, Math.max(0, ...sizes) * 1.1, 0.01);
}

function drawLines(view: ChartView, c: Canvas, scale: Scale, units: ChartUnits, look: Look): void {
  const g = glyphs(look);
  const across = (mm: number, mark: string, style: 'faint' | 'plain'): void => {
    const y = Math.round(scale.y(mm));
    if (y < 0 || y >= scale.height) return;
    for (let x = 0; x < scale.width; x += 1) c.put(scale.left + x, y, mark, style);
  };
  const label = (mm: number): void => {
    const words = signedNumber(mm, units.register);
    c.put(Math.max(0, scale.left - 1 - words.length), Math.round(scale.y(mm)), words);
  };
  if (view.limits_mm !== null && scale.height >= ROOMY_ROWS)
    for (const mm of [view.limits_mm.lower, view.limits_mm.upper]) across(mm, g.limit, 'faint');
  across(0, g.zero, 'faint');
  label(0);
  if (!Number.isFinite(view.tolerance_mm)) return;
  for (const side of [1, -1]) {
    across(side * view.tolerance_mm, g.tolerance, 'plain');
    label(side * view.tolerance_mm);
  }
}

function drawCone(view: ChartView, c: Canvas, scale: Scale, look: Look): void {
  const g = glyphs(look);
  for (let i = 1; i < view.cone.length; i += 1) {
    const from = view.cone[i - 1];
    const to = view.cone[i];
    if (from === undefined || to === undefined) continue;
    const x0 = Math.ceil(scale.x.column(from.web_m));
    const x1 = Math.floor(scale.x.column(to.web_m));
    for (let x = Math.max(0, x0); x <= Math.min(scale.width - 1, x1); x += 1) {
      const share = x1 === x0 ? 1 : (x - x0) / (x1 - x0);
      const top = scale.y(from.high_mm + (to.high_mm - from.high_mm) * share);
      const bottom = scale.y(from.low_mm + (to.low_mm - from.low_mm) * share);
      for (let y = Math.max(0, Math.round(top)); y <= Math.min(scale.height - 1, Math.round(bottom)); y += 1)
        c.put(scale.left + x, y, g.cone);
    }
  }
}

function drawUprights(view: ChartView, c: Canvas, scale: Scale, look: Look): void {
  const g = glyphs(look);
  const upright = (web_m: number, mark: string): void => {
    const x = Math.round(scale.x.column(web_m));
    if (x < 0 || x >= scale.width) return;
    for (let y = 0; y < scale.height; y += 1) c.put(scale.left + x, y, mark, 'faint');
  };
  for (const one of view.rolls) upright(one.web_m, one.kind === 'stock' ? g.stock : g.roll);
  if (view.began_m !== null) upright(view.began_m, g.began);
}

function drawTrend(view: ChartView, c: Canvas, scale: Scale, look: Look): void {
  const dots = dotGrid(scale.width, scale.height);
  for (let i = 1; i < view.trend.length; i += 1) {
    const from = view.trend[i - 1];
    const to = view.trend[i];
    if (from === undefined || to === undefined) continue;
    const x0 = scale.x.column(from.web_m) * 2;
    const x1 = scale.x.column(to.web_m) * 2;
    if (x1 < 0 || x0 > scale.width * 2) continue;
    const steps = Math.min(400, Math.max(1, Math.ceil(Math.abs(x1 - x0))));
    for (let s = 0; s <= steps; s += 1) {
      const mm = from.mm + ((to.mm - from.mm) * s) / steps;
      dots.set(Math.round(x0 + ((x1 - x0) * s) / steps), Math.round(scale.y(mm) * 4 + 1.5));
    }
  }
  putDots(c, scale, dots, look.ascii ? '.' : null);
}

function drawPoints(view: ChartView, c: Canvas, scale: Scale, look: Look): void {
  const g = glyphs(look);
  const fine = scale.height < ROOMY_ROWS && !look.ascii;
  const dots = dotGrid(scale.width, scale.height);
  for (const one of view.points) {
    const x = Math.round(scale.x.column(one.web_m));
    const y = scale.y(one.mm);
    if (x < 0 || x >= scale.width) continue;
    const at = Math.max(0, Math.min(scale.height - 1, Math.round(y)));
    if (fine && !one.withdrawn) {
      const dot = Math.max(0, Math.min(scale.height * 4 - 1, Math.round(y * 4 + 1.5)));
      dots.set(x * 2, dot);
      dots.set(x * 2 + 1, dot);
    } else
      c.put(
        scale.left + x,
        at,
        one.withdrawn ? g.withdrawn : one.signal ? g.signal : g.point,
        one.signal ? 'strong' : 'plain',
      );
  }
  if (fine) putDots(c, scale, dots, null);
}

function putDots(c: Canvas, scale: Scale, dots: ReturnType<typeof dotGrid>, instead: string | null): void {
  for (let y = 0; y < scale.height; y += 1) {
    for (let x = 0; x < scale.width; x += 1) {
      const cell = dots.cell(x, y);
      if (cell !== null) c.put(scale.left + x, y, instead ?? cell);
    }
  }
}

function drawActs(view: ChartView, c: Canvas, scale: Scale, look: Look): void {
  const g = glyphs(look);
  const mark = (web_m: number, text: string): void => {
    const x = Math.round(scale.x.column(web_m));
    if (x >= 0 && x < scale.width) c.put(scale.left + x, scale.height - 1, text, 'strong');
  };
  for (const one of view.speeds) mark(one.web_m, g.speed);
  for (const one of view.stops) mark(one.web_m, g.stop);
  for (const one of view.washes) mark(one.web_m, g.wash);
  for (const one of view.corrections) mark(one.web_m, g.knob);
}

function drawFoot(
  view: ChartView,
  c: Canvas,
  box: ChartBox,
  scale: Scale,
  units: ChartUnits,
  by: 'web' | 'roll',
): void {
  const y = box.rows - 1;
  if (by === 'roll') {
    c.put(0, y, 'roll');
    let free = 0;
    for (const roll of scale.x.rolls) {
      const x = Math.round((roll.from + roll.to) / 2) - Math.floor(roll.name.length / 2);
      if (x < free) continue;
      c.put(scale.left + x, y, roll.name);
      free = x + roll.name.length + 1;
    }
    return;
  }
  const from = placeWords(view.from_m, units);
  const to = placeWords(view.to_m, units);
  c.put(scale.left, y, from);
  c.put(box.width - to.length, y, to);
  let free = from.length + 2;
  for (const one of view.rolls) {
    if (one.roll === null || one.kind !== 'finished') continue;
    const x = Math.round(scale.x.column(one.web_m));
    const words = `${one.roll}`;
    // The number stands under the roll's own end.
    if (x - words.length < free || x > scale.width - to.length - 2) continue;
    c.put(scale.left + x - words.length, y, words);
    free = x + 2;
  }
}

/** The line above a chart: what it shows, from where to where, and what the marks are. */
export function chartLegend(look: Look, width: number): string {
  const g = glyphs(look);
  const all = [
    `${g.point} reading`,
    `${g.knob} knob`,
    `${g.roll} roll off`,
    `${g.cone} heading`,
    `${g.signal} signal`,
    `${g.began} began`,
    `${g.wash} wash`,
    `${g.stop} stop`,
    `${g.speed} speed`,
    `${g.stock} stock`,
  ];
  let line = '';
  for (const one of all) if (line.length + one.length + 2 <= width) line = line === '' ? one : `${line}  ${one}`;
  return line;
}
