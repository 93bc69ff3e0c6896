import { readFileSync } from 'node:fs';
import { CsvError, parse } from 'csv-parse/sync';
import { fail, ok, type Result } from '../../core/result.js';
import { numberOf, type Table, type TableRow } from '../../core/spc/stats/table.js';

/** A CSV file as a table; `-` reads standard input. What cannot be read is refused with the file and, where known, the line. */
export const readTable = (file: string): Result<Table> => {
  try {
    return tableOf(file, readFileSync(file === '-' ? 0 : file, 'utf8'));
  } catch (error) {
    return fail(whyUnread(error), file);
  }
};

/**
 * Text of a CSV file as a table: byte-order mark and any line ending allowed, commas, semicolons or tabs between cells,
 * a header first. A blank line is a row of blanks (a missing value keeps its place); blank lines at the end are dropped.
 */
export const tableOf = (file: string, text: string): Result<Table> => {
  const lines = linesOf(text);
  if (!lines.ok) return fail(lines.problem.message, lines.problem.where ?? file);
  while (lines.value.at(-1)?.cells.every((cell) => cell.trim() === '')) lines.value.pop();
  const [header, ...rows] = lines.value;
  if (header === undefined) return fail('the file is empty; a header and one row a reading are needed', file);
  const names = header.cells.map((cell) => cell.trim());
  if (names.every((name) => numberOf(name) !== null)) {
    return fail(`the first row must be a header, got ${names.slice(0, 5).join(', ')}`, `${file}:${header.line}`);
  }
  if (rows.length === 0) return fail('there is a header but no row of readings', file);
  const odd = rows.find(({ cells }) => cells.length !== names.length && !cells.every((cell) => cell.trim() === ''));
  if (odd !== undefined) {
    return fail(`${odd.cells.length} cells, but the header has ${names.length}`, `${file}:${odd.line}`);
  }
  return ok({ file, names, rows });
};

const linesOf = (text: string): Result<TableRow[]> => {
  const firstLine = text.slice(0, Math.max(0, text.search(/[\r\n]|$/)));
  const delimiter = [',', ';', '\t'].find((mark) => firstLine.includes(mark)) ?? ',';
  try {
    const records: unknown = parse(text, { bom: true, delimiter, relax_column_count: true, info: true });
    return ok(Array.isArray(records) ? records.map(rowOf) : []);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return fail(`this is not CSV: ${error.message}`);
  }
};

/** csv-parse counts the lines it has read to the end of the record; a record stands where its first line is. */
const rowOf = (entry: { readonly record: readonly string[]; readonly info: { readonly lines: number } }): TableRow => {
  const inside = entry.record.reduce((count, cell) => count + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
  return { line: entry.info.lines - inside, cells: entry.record };
};

const whyUnread = (error: unknown): string => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOENT') return 'no such file';
  if (code === 'EISDIR') return 'this is a folder, not a file';
  if (code === 'EACCES') return 'no permission to read it';
  return `cannot be read (${error instanceof Error ? error.message : String(error)})`;
};
