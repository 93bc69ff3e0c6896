import type { Row, Run, Style } from './row.js';

/** A grid of characters to draw on; what lies outside is dropped. */
export type Canvas = {
  readonly width: number;
  readonly height: number;
  readonly put: (x: number, y: number, text: string, style?: Style) => void;
  readonly at: (x: number, y: number) => string;
  readonly rows: () => readonly Row[];
};

export function canvas(width: number, height: number): Canvas {
  const chars: string[][] = Array.from({ length: height }, () => Array.from({ length: width }, () => ' '));
  const styles: Style[][] = Array.from({ length: height }, () => Array.from({ length: width }, (): Style => 'plain'));
  return {
    width,
    height,
    put: (x, y, text, style = 'plain') => {
      const line = chars[y];
      const looks = styles[y];
      if (line === undefined || looks === undefined) return;
      for (let i = 0; i < text.length; i += 1) {
        const at = x + i;
        if (at < 0 || at >= width) continue;
        line[at] = text[i] ?? ' ';
        looks[at] = style;
      }
    },
    at: (x, y) => chars[y]?.[x] ?? '',
    rows: () => chars.map((line, y) => toRow(line, styles[y] ?? [])),
  };
}

function toRow(line: readonly string[], looks: readonly Style[]): Row {
  const runs: Run[] = [];
  let text = '';
  let style: Style = 'plain';
  line.forEach((char, x) => {
    const here = looks[x] ?? 'plain';
    if (here !== style && text !== '') {
      runs.push({ text, style });
      text = '';
    }
    style = here;
    text += char;
  });
  if (text !== '') runs.push({ text, style });
  return runs;
}
