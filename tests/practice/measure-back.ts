import type { LoupeScale } from '../../src/ui/practice/loupe.js';

type Read = { readonly along: number; readonly across: number };

/** Bits of a braille character by column and row (Unicode block "Braille Patterns"). */
const BITS = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const;

/**
 * Measures the solid cross against the centre from the characters of the field alone: the dots are taken out of the characters, the solid
 * column and row are the ones with the longest unbroken run of dots.
 */
export const measureBack = (rows: readonly string[], scale: LoupeScale, right = true): Read => {
  const dot = (x: number, y: number): boolean => {
    const code = (rows[y >> 2]?.charCodeAt(x >> 1) ?? 0x20) - 0x2800;
    return code >= 0 && (code & (BITS[x & 1]?.[y & 3] ?? 0)) !== 0;
  };
  const width = (rows[0]?.length ?? 0) * 2;
  const height = rows.length * 4;
  const x = longest(width, height, (column, along) => dot(column, along));
  const y = longest(height, width, (row, along) => dot(along, row));
  return { along: (right ? 1 : -1) * (x - 26) * scale.mm_per_dot, across: (y - 24) * scale.mm_per_dot };
};

/** The same from plain ASCII: the "+" where its two arms meet. */
export const measurePlain = (rows: readonly string[], scale: LoupeScale): Read => {
  const y = rows.findIndex((row) => row.includes('+'));
  const x = rows[y]?.indexOf('+') ?? -1;
  return { along: (x - 13) * 2 * scale.mm_per_dot, across: (y - 6) * 4 * scale.mm_per_dot };
};

const longest = (lines: number, length: number, at: (line: number, along: number) => boolean): number => {
  let best = { line: -1, run: 0 };
  for (let line = 0; line < lines; line += 1) {
    let run = 0;
    for (let along = 0; along < length; along += 1) {
      run = at(line, along) ? run + 1 : 0;
      if (run > best.run) best = { line, run };
    }
  }
  return best.line;
};
