/** How a piece of text stands out; the theme says what that looks like on this terminal. */
export type Style = 'plain' | 'faint' | 'strong' | 'note' | 'act' | 'out' | 'field' | 'key';

export type Run = { readonly text: string; readonly style: Style };

/** One line of the screen, as runs of one style each. */
export type Row = readonly Run[];

export const run = (text: string, style: Style = 'plain'): Run => ({ text, style });

export const row = (text: string, style: Style = 'plain'): Row => [run(text, style)];

export const blank: Row = [];

/** The text alone, as a terminal without colour would show it. */
export const plainText = (line: Row): string => line.map((one) => one.text).join('');

export const widthOf = (line: Row): number => line.reduce((sum, one) => sum + one.text.length, 0);

/** Cut to a width: a row never runs over its box. */
export function cutRow(line: Row, width: number): Row {
  if (widthOf(line) <= width) return line;
  const kept: Run[] = [];
  let left = Math.max(0, width);
  for (const one of line) {
    if (left <= 0) break;
    kept.push(one.text.length <= left ? one : { ...one, text: one.text.slice(0, left) });
    left -= one.text.length;
  }
  return kept;
}

/** Exactly so many rows, cut to the width; missing ones are blank. */
export function fitRows(rows: readonly Row[], width: number, height: number): readonly Row[] {
  const fitted = rows.slice(0, Math.max(0, height)).map((line) => cutRow(line, width));
  while (fitted.length < height) fitted.push(blank);
  return fitted;
}

/** Two pieces at the two ends of one row; the right one gives way when there is no room. */
export function spread(left: Row, right: Row, width: number): Row {
  const gap = width - widthOf(left) - widthOf(right);
  return gap < 1 ? cutRow(left, width) : [...left, run(' '.repeat(gap)), ...right];
}

/** Words broken into lines of a width; a word longer than the line is cut. */
export function wrapWords(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  // A number keeps together with its groups of three and its unit.
  const tied = text
    .replace(/(\d) (?=\d{3}(?!\d))/g, `$1${TIE}`)
    .replace(/(\d) (?=(?:m|mm|ft|in|thou|min|s|h|%)(?![a-z]))/g, `$1${TIE}`);
  for (const word of tied.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? word : `${line} ${word}`;
    while (line.length > width && width > 0) {
      lines.push(line.slice(0, width));
      line = line.slice(width);
    }
  }
  if (line !== '') lines.push(line);
  return lines.map((one) => one.replaceAll(TIE, ' '));
}

const TIE = '\u00A0';
