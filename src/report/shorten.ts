import type { Block, Section } from './document.js';

/** Cuts words that are too long for their place, and shows that they were cut. Isolates opened before the cut are closed. */
export function shorten(text: string, most: number): string {
  if (text.length <= most) return text;
  const cut = [...new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text.slice(0, most * 2))]
    .slice(0, most - 1)
    .map(({ segment }) => segment)
    .join('');
  const open = cut.split('\u2068').length - cut.split('\u2069').length;
  return `${cut.trimEnd()}${'\u2069'.repeat(Math.max(0, open))}…`;
}

/**
 * A name of ten thousand characters may not blow up a table or a heading; sentences and notes keep every word. `cell`: most characters of a
 * cell, more where it holds sentences.
 */
export const shortenCells = (section: Section, cell = 80): Section => ({
  ...section,
  title: shorten(section.title, 100),
  blocks: section.blocks.map((one) => block(one, cell)),
});

function block(value: Block, most: number): Block {
  if (value.kind === 'heading') return { ...value, text: shorten(value.text, 160) };
  if (value.kind === 'table')
    return { ...value, rows: value.rows.map((cells) => cells.map((cell) => shorten(cell, most))) };
  return value;
}
