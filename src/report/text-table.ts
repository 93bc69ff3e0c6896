import type { Table } from './document.js';
import { textWidth, wrapText } from './wrap-text.js';

/** A table in text columns; cells too long for the width are broken over lines, the widest columns first made narrower. */
export function textTable(table: Table, width: number): readonly string[] {
  const titles = table.columns.map(({ title }) => title);
  const widths = narrow([titles, ...table.rows], width);
  const rightOf = table.columns.map(({ numbers }) => numbers === true);
  const rule = widths.map((column) => '-'.repeat(column)).join(GAP);
  return [...row(titles, widths, rightOf), rule, ...table.rows.flatMap((cells) => row(cells, widths, rightOf))];
}

const GAP = '  ';
const NARROW = 6;

function narrow(rows: readonly (readonly string[])[], width: number): readonly number[] {
  const columns = rows[0]?.length ?? 0;
  const widths = Array.from({ length: columns }, (_, column) =>
    Math.max(...rows.map((cells) => textWidth(cells[column] ?? '')), 1),
  );
  const room = width - GAP.length * (columns - 1);
  const narrowest = Math.max(2, Math.min(NARROW, Math.floor(room / columns)));
  let over = widths.reduce((sum, column) => sum + column, 0) - room;
  while (over > 0) {
    const widest = widths.indexOf(Math.max(...widths));
    const now = widths[widest] ?? 0;
    if (now <= narrowest) break;
    const second = Math.max(narrowest, ...widths.filter((_, index) => index !== widest));
    const cut = Math.max(1, Math.min(over, now - Math.max(narrowest, Math.min(second, now - 1))));
    widths[widest] = now - cut;
    over -= cut;
  }
  return widths;
}

function row(cells: readonly string[], widths: readonly number[], rightOf: readonly boolean[]): readonly string[] {
  const broken = widths.map((column, index) => wrapText(cells[index] ?? '', column));
  const height = Math.max(...broken.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    widths
      .map((column, index) => pad(broken[index]?.[line] ?? '', column, rightOf[index] === true))
      .join(GAP)
      .trimEnd(),
  );
}

function pad(text: string, width: number, right: boolean): string {
  const room = ' '.repeat(Math.max(0, width - textWidth(text)));
  return right ? room + text : text + room;
}
