import type { Row, Style } from './draw/row.js';
import { clusterOf, FILLER } from './in-columns.js';

/** What this terminal can show. */
export type Look = { readonly ascii: boolean; readonly color: boolean; readonly decimal: '.' | ',' };

/** Shapes tell stations apart before colour does; each has a plain ASCII stand-in. */
export type Glyphs = {
  readonly print: string;
  readonly reference: string;
  readonly die: string;
  readonly trapFirst: string;
  readonly trapSecond: string;
  readonly looked: string;
  readonly next: string;
  readonly interval: string;
  readonly zero: string;
  readonly tolerance: string;
  readonly shape: string;
  readonly rule: string;
  readonly roll: string;
  readonly stock: string;
  readonly knob: string;
  readonly wash: string;
  readonly speed: string;
  readonly stop: string;
  readonly began: string;
  readonly cone: string;
  readonly point: string;
  readonly signal: string;
  readonly withdrawn: string;
  readonly limit: string;
  readonly advice: string;
  readonly webRight: string;
  readonly webLeft: string;
  readonly above: string;
  readonly below: string;
  readonly cursor: string;
};

const DRAWN: Glyphs = {
  print: '●',
  reference: '■',
  die: '◆',
  trapFirst: '◐',
  trapSecond: '◑',
  looked: '·',
  next: '○',
  interval: '┆',
  zero: '─',
  tolerance: '╌',
  shape: '∙',
  rule: '─',
  roll: '╎',
  stock: '║',
  knob: '▲',
  wash: '≈',
  speed: '»',
  stop: '×',
  began: '┊',
  cone: '░',
  point: '•',
  signal: '◉',
  withdrawn: '◌',
  limit: '┄',
  advice: '▶',
  webRight: '→',
  webLeft: '←',
  above: '▲',
  below: '▼',
  cursor: '▏',
};

const PLAIN: Glyphs = {
  print: '#',
  reference: 'R',
  die: 'D',
  trapFirst: '(',
  trapSecond: ')',
  looked: '.',
  next: 'o',
  interval: ':',
  zero: '-',
  tolerance: '=',
  shape: "'",
  rule: '-',
  roll: '|',
  stock: 'I',
  knob: '^',
  wash: '~',
  speed: '>',
  stop: 'x',
  began: '!',
  cone: '%',
  point: '*',
  signal: '@',
  withdrawn: '0',
  limit: '.',
  advice: '>',
  webRight: '->',
  webLeft: '<-',
  above: '^',
  below: 'v',
  cursor: '_',
};

export const glyphs = (look: Look): Glyphs => (look.ascii ? PLAIN : DRAWN);

type Codes = { readonly open: string; readonly close: string };

/**
 * Only where something is abnormal do we choose colours, and then both of them, so that the contrast does not hang on
 * the terminal's own background: bright white on red, black on yellow, black on cyan (see tests/ui/theme.test.ts).
 */
const COLOURED: Readonly<Record<Style, Codes>> = {
  plain: { open: '', close: '' },
  faint: { open: '', close: '' },
  strong: { open: '\u001B[1m', close: '\u001B[22m' },
  note: { open: '\u001B[30;46m', close: '\u001B[39;49m' },
  act: { open: '\u001B[30;43m', close: '\u001B[39;49m' },
  out: { open: '\u001B[97;41m', close: '\u001B[39;49m' },
  field: { open: '\u001B[7m', close: '\u001B[27m' },
  key: { open: '\u001B[1m', close: '\u001B[22m' },
};

/** Without colour: bold and reversed only. */
const UNCOLOURED: Readonly<Record<Style, Codes>> = {
  ...COLOURED,
  note: { open: '\u001B[1m', close: '\u001B[22m' },
  act: { open: '\u001B[1;7m', close: '\u001B[22;27m' },
  out: { open: '\u001B[1;7m', close: '\u001B[22;27m' },
};

/**
 * What would break a row: control and formatting characters in a name from a file, and characters that are not exactly one
 * column wide and were not made so (in-columns.ts). The board shows a question mark for them; the log and the reports keep them as they are.
 */
const BREAKS =
  '[\\p{C}\\p{M}\\p{Zl}\\p{Zp}\\u1100-\\u115F\\u2E80-\\uA4CF\\uAC00-\\uD7A3\\uF900-\\uFAFF\\uFE30-\\uFE6F\\uFF00-\\uFF60\\uFFE0-\\uFFE6\\u{10000}-\\u{10FFFF}]';
const UNSAFE = new RegExp(BREAKS, 'u');
const UNSAFE_ALL = new RegExp(`([\\uE800-\\uF8FE])(${FILLER}?)|${BREAKS}`, 'gu');

/** A row as the terminal takes it. */
export function paint(line: Row, look: Look): string {
  const before = painted.get(line);
  if (before?.look === look) return before.text;
  const text = painting(line, look);
  painted.set(line, { look, text });
  return text;
}

/** Rows that were drawn before and are still the same are not painted again. */
const painted = new WeakMap<Row, { readonly look: Look; readonly text: string }>();

function painting(line: Row, look: Look): string {
  const codes = look.color ? COLOURED : UNCOLOURED;
  return line
    .map((one) => {
      const safe = UNSAFE.test(one.text) ? one.text.replace(UNSAFE_ALL, asShown) : one.text;
      const text = look.decimal === ',' ? safe.replace(/(\d)\.(?=\d)/g, '$1,') : safe;
      return text === '' ? '' : codes[one.style].open + text + codes[one.style].close;
    })
    .join('');
}

/** The letters of a unit again; of a wide one that was cut in two a blank is left. */
const asShown = (found: string, unit: string | undefined, filler: string | undefined): string => {
  if (found === FILLER) return ' ';
  const cluster = unit === undefined ? null : clusterOf(unit);
  if (cluster === null) return '?'.repeat(found.length);
  return cluster.wide ? (filler === FILLER ? cluster.text : ' ') : cluster.text + (filler === FILLER ? ' ' : '');
};

/** The pairs of colours we choose ourselves, by style: foreground on background, as 16-colour indices. */
export const CHOSEN_COLOURS: readonly {
  readonly style: Style;
  readonly foreground: number;
  readonly background: number;
}[] = [
  { style: 'note', foreground: 0, background: 6 },
  { style: 'act', foreground: 0, background: 3 },
  { style: 'out', foreground: 15, background: 1 },
];
