import stringWidth from 'string-width';
import { holdNumbers, releaseNumbers } from './hold-numbers.js';

/** Terminal columns that a text takes; plain ASCII, which is nearly all of a report, is counted without looking anything up. */
export const textWidth = (text: string): number => (PLAIN.test(text) ? text.length : stringWidth(text));

const PLAIN = /^[ -~]*$/;

/** Breaks words into lines of at most `width` columns; keeps a number with its thousands and its unit; breaks words that are too long. */
export function wrapText(text: string, width: number): readonly string[] {
  if (textWidth(text) <= width) return [releaseNumbers(text)];
  const lines: string[] = [];
  let line = '';
  for (const word of holdNumbers(text)
    .split(' ')
    .flatMap((part) => pieces(part, width))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (textWidth(longer) <= width) line = longer;
    else {
      if (line !== '') lines.push(line);
      line = word;
    }
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines.map(releaseNumbers);
}

function pieces(word: string, width: number): readonly string[] {
  if (textWidth(word) <= width) return [word];
  const found: string[] = [];
  let piece = '';
  let used = 0;
  for (const { segment } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(word)) {
    const wide = textWidth(segment);
    if (used + wide > width && piece !== '') {
      found.push(piece);
      piece = '';
      used = 0;
    }
    piece += segment;
    used += wide;
  }
  return piece === '' ? found : [...found, piece];
}
