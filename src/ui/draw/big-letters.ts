import type { Look } from '../theme.js';
import { dotOf, FONT_HEIGHT, FONT_WIDTH } from './font.js';
import { wrapWords } from './row.js';

export type BigBox = { readonly width: number; readonly rows: number };

type Size = { readonly columns: number; readonly rows: number; readonly draw: (text: string) => readonly string[] };

/** Words in the largest block letters that fit the box, broken between words; cut where even the smallest is too large. */
export function bigLetters(text: string, box: BigBox, look: Look): readonly string[] {
  const words = text.toUpperCase();
  const solid = look.ascii ? '#' : '█';
  const sizes = [scaled(4, 2, solid), scaled(2, 1, solid), scaled(1, 1, solid), ...(look.ascii ? [] : [halved()])];
  const longest = Math.max(...words.split(' ').map((one) => one.length));
  for (const size of sizes) {
    const perLine = Math.floor(box.width / size.columns);
    if (perLine < longest) continue;
    const lines = wrapWords(words, perLine);
    if (lines.length * (size.rows + 1) - 1 <= box.rows) return join(lines, size);
  }
  const least = look.ascii ? scaled(1, 1, solid) : halved();
  const perLine = Math.max(1, Math.floor(box.width / least.columns));
  return join(wrapWords(words, perLine), least).slice(0, box.rows);
}

const join = (lines: readonly string[], size: Size): readonly string[] =>
  lines.flatMap((line, i) => [...(i === 0 ? [] : ['']), ...size.draw(line)]);

/** Every dot so many columns wide and rows high. */
const scaled = (wide: number, high: number, solid: string): Size => ({
  columns: (FONT_WIDTH + 1) * wide,
  rows: FONT_HEIGHT * high,
  draw: (text) =>
    dotRows(text).flatMap((line) =>
      Array.from({ length: high }, () =>
        line
          .map((dot) => (dot ? solid : ' ').repeat(wide))
          .join('')
          .trimEnd(),
      ),
    ),
});

/** Two dots high in one character, with the half blocks. */
const halved = (): Size => ({
  columns: FONT_WIDTH + 1,
  rows: Math.ceil(FONT_HEIGHT / 2),
  draw: (text) => {
    const lines = dotRows(text);
    return Array.from({ length: Math.ceil(FONT_HEIGHT / 2) }, (_, y) =>
      (lines[0] ?? [])
        .map((_dot, x) => {
          const upper = lines[2 * y]?.[x] === true;
          const lower = lines[2 * y + 1]?.[x] === true;
          return upper ? (lower ? '█' : '▀') : lower ? '▄' : ' ';
        })
        .join('')
        .trimEnd(),
    );
  },
});

const dotRows = (text: string): readonly (readonly boolean[])[] =>
  Array.from({ length: FONT_HEIGHT }, (_, y) =>
    [...text].flatMap((letter) => [...Array.from({ length: FONT_WIDTH }, (_, x) => dotOf(letter, x, y)), false]),
  );
