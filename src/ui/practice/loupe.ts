import { dotGrid } from '../draw/braille.js';

/** How marks are drawn: size of one dot, and how many a character has. */
export type LoupeScale = {
  /** One dot, mm; what is drawn is to scale to half of this. */
  readonly mm_per_dot: number;
  /** Far edges of the field, mm each way. */
  readonly field_mm: number;
};

export const LOUPE = { width: 27, height: 13 } as const;

/** Where true lies, in dots from the top left corner of the field. */
const CENTRE = { x: 26, y: 24 } as const;
const ARM = 9;

/** Half a tenth of a millimetre to a row and finer for small errors, coarser for teeth: the finest field that both axes fit in. */
const SCALES: readonly number[] = [0.025, 0.1, 0.5, 2];

export const loupeScale = (along_mm: number, across_mm: number): LoupeScale => {
  const far = Math.max(Math.abs(along_mm), Math.abs(across_mm));
  const fits = SCALES.find((mm) => far / mm <= CENTRE.y - 2) ?? 5;
  return { mm_per_dot: fits, field_mm: fits * CENTRE.y };
};

/**
 * Two register marks under a loupe, to scale: the reference a dotted cross through the whole field, the station's a solid one. Right is
 * downstream where the web runs left to right; down is the operator's side. 13 rows of 27 characters; a row is 4 dots, a character 2 across.
 */
export const drawLoupe = (
  along_mm: number,
  across_mm: number,
  scale: LoupeScale,
  webRight: boolean,
  ascii: boolean,
): readonly string[] =>
  ascii ? drawPlain(along_mm, across_mm, scale, webRight) : drawDots(along_mm, across_mm, scale, webRight);

const drawDots = (along_mm: number, across_mm: number, scale: LoupeScale, webRight: boolean): readonly string[] => {
  const { width, height } = LOUPE;
  const grid = dotGrid(width, height);
  for (let x = CENTRE.x % 4; x < width * 2; x += 4) grid.set(x, CENTRE.y);
  for (let y = CENTRE.y % 4; y < height * 4; y += 4) grid.set(CENTRE.x, y);
  const { x, y } = dotOf(along_mm, across_mm, scale, webRight);
  for (let i = -ARM; i <= ARM; i += 1) {
    grid.set(x + i, y);
    grid.set(x, y + i);
  }
  return Array.from({ length: height }, (_, row) =>
    Array.from({ length: width }, (_, column) => grid.cell(column, row) ?? ' ').join(''),
  );
};

/** One character a step: two dots across, four down. */
const drawPlain = (along_mm: number, across_mm: number, scale: LoupeScale, webRight: boolean): readonly string[] => {
  const { width, height } = LOUPE;
  const rows = Array.from({ length: height }, () => Array.from({ length: width }, () => ' '));
  const put = (x: number, y: number, char: string): void => {
    const row = rows[y];
    if (row !== undefined && x >= 0 && x < width) row[x] = char;
  };
  for (let x = 0; x < width; x += 2) put(x + (13 % 2), 6, '.');
  for (let y = 0; y < height; y += 1) put(13, y, ':');
  const x = 13 + Math.round(((webRight ? 1 : -1) * along_mm) / (2 * scale.mm_per_dot));
  const y = 6 + Math.round(across_mm / (4 * scale.mm_per_dot));
  for (let i = -4; i <= 4; i += 1) put(x + i, y, '-');
  for (let i = -2; i <= 2; i += 1) put(x, y + i, '|');
  put(x, y, '+');
  return rows.map((row) => row.join(''));
};

const dotOf = (along_mm: number, across_mm: number, scale: LoupeScale, webRight: boolean) => ({
  x: CENTRE.x + Math.round(((webRight ? 1 : -1) * along_mm) / scale.mm_per_dot),
  y: CENTRE.y + Math.round(across_mm / scale.mm_per_dot),
});

/** Figures under the field, every ten columns or so, and beside every third row: millimetres from true. */
export const scaleFigures = (
  scale: LoupeScale,
): { readonly under: string; readonly beside: readonly string[]; readonly says: string } => {
  const step = scale.mm_per_dot * 4;
  const under = Array.from({ length: LOUPE.width }, () => ' ');
  for (let k = -3; k <= 3; k += 1) {
    const text = figure(k * 2 * step);
    const at = 13 + k * 4 - Math.floor(text.length / 2);
    for (let i = 0; i < text.length; i += 1) if (under[at + i] !== undefined) under[at + i] = text[i] ?? ' ';
  }
  const beside = Array.from({ length: LOUPE.height }, (_, row) =>
    (row - 6) % 2 === 0 ? figure((row - 6) * step) : '',
  );
  return { under: under.join(''), beside, says: `one row, or two characters across, is ${trim(step)} mm` };
};

/** Figures go without their sign and, below one, without their nought, as on a scale. */
const figure = (mm: number): string => trim(Math.abs(mm)).replace(/^0\./, '.');
const trim = (mm: number): string => String(Math.round(mm * 1000) / 1000);
