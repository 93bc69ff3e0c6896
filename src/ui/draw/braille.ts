/** Dots finer than a character: two across and four down a cell, as the braille block has them. */
export type DotGrid = {
  readonly set: (dotX: number, dotY: number) => void;
  /** The character of a cell, or null when no dot is set in it. */
  readonly cell: (x: number, y: number) => string | null;
};

/** Bits of the eight dots in U+2800, by column and row (Unicode block "Braille Patterns"). */
const BITS: readonly (readonly number[])[] = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
];

export function dotGrid(width: number, height: number): DotGrid {
  const cells = new Uint8Array(width * height);
  return {
    set: (dotX, dotY) => {
      const x = dotX >> 1;
      const y = dotY >> 2;
      if (dotX < 0 || dotY < 0 || x >= width || y >= height) return;
      cells[y * width + x] = (cells[y * width + x] ?? 0) | (BITS[dotX & 1]?.[dotY & 3] ?? 0);
    },
    cell: (x, y) => {
      const bits = cells[y * width + x] ?? 0;
      return bits === 0 ? null : String.fromCharCode(0x2800 + bits);
    },
  };
}
