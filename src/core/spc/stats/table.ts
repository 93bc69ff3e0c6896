import { nearest } from '../../nearest.js';
import { quoted } from '../../quoted.js';
import { fail, ok, type Result } from '../../result.js';

/** A file of columns with a header, as read: every cell still text, every row with its line in the file. */
export type Table = {
  readonly file: string;
  readonly names: readonly string[];
  readonly rows: readonly TableRow[];
};

export type TableRow = { readonly line: number; readonly cells: readonly string[] };

/** A column of numbers: null where a cell is blank, so every value keeps its place. */
export type NumberColumn = { readonly name: string; readonly values: readonly (number | null)[] };

/** The named column as numbers. Refused: no such column, a cell that is neither a number nor blank, no number at all. */
export const numbersOf = (table: Table, name: string): Result<NumberColumn> => {
  const at = placeOf(table, name);
  if (!at.ok) return at;
  const values: (number | null)[] = [];
  for (const { line, cells } of table.rows) {
    const cell = (cells[at.value] ?? '').trim();
    if (cell === '') {
      values.push(null);
      continue;
    }
    const value = numberOf(cell);
    if (value === null) {
      return fail(`column ${quoted(name)}: ${quoted(cell)} is not a number${hint(cell)}`, `${table.file}:${line}`);
    }
    values.push(value);
  }
  if (values.every((value) => value === null)) return fail(`column ${quoted(name)} holds no numbers`, table.file);
  return ok({ name, values });
};

/** The named column as words. */
export const wordsOf = (table: Table, name: string): Result<readonly string[]> => {
  const at = placeOf(table, name);
  return at.ok ? ok(table.rows.map(({ cells }) => (cells[at.value] ?? '').trim())) : at;
};

/** The column asked for, or the first numeric one that has no other part to play. */
export const valueColumn = (
  table: Table,
  asked: string | undefined,
  others: readonly (string | undefined)[] = [],
): Result<NumberColumn> => {
  if (asked !== undefined) return numbersOf(table, asked);
  const free = table.names.filter((name) => !others.includes(name));
  const first = free.find((name) => mostlyNumbers(table, name)) ?? (free.length === 1 ? free[0] : undefined);
  if (first === undefined) {
    return fail(`no column of numbers; name one with --column (there are: ${table.names.join(', ')})`, table.file);
  }
  return numbersOf(table, first);
};

/** A cell as a number, null when it is anything else (`NaN`, `1,5`, `0x1F`, `12 mm`). */
export const numberOf = (cell: string): number | null => {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(cell)) return null;
  const value = Number(cell);
  return Number.isFinite(value) ? value : null;
};

const placeOf = (table: Table, name: string): Result<number> => {
  const at = table.names.indexOf(name);
  if (at < 0) {
    const near = nearest(name, table.names);
    const meant = near === null ? '' : `; did you mean ${quoted(near)}?`;
    return fail(`no column ${quoted(name)}${meant} (there are: ${table.names.join(', ')})`, table.file);
  }
  if (table.names.lastIndexOf(name) !== at)
    return fail(`column ${quoted(name)} stands twice in the header`, table.file);
  return ok(at);
};

/** Whether at least half of the cells that are not blank are numbers: one slip does not change which column is meant. */
const mostlyNumbers = (table: Table, name: string): boolean => {
  const at = table.names.indexOf(name);
  const filled = table.rows.map(({ cells }) => (cells[at] ?? '').trim()).filter((cell) => cell !== '');
  const numbers = filled.filter((cell) => numberOf(cell) !== null).length;
  return numbers > 0 && numbers * 2 >= filled.length;
};

const hint = (cell: string): string =>
  /^[+-]?\d+,\d+$/.test(cell) ? '; write the decimal with a point' : '; leave it blank if the value is missing';
