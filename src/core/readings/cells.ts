import { type CsvError, type InfoRecord, parse } from 'csv-parse/sync';
import { nearest } from '../nearest.js';
import { quoted } from '../quoted.js';
import { fail, ok, type Result } from '../result.js';
import { COLUMNS, type Column, REQUIRED_COLUMNS } from './row.js';

/** The cells of one row, untrimmed. */
export type Cells = { readonly line: number; readonly record: readonly string[] };

/** The cells of a readings CSV, at which place of a row each column stands, and whether its spreadsheet wrote decimals with a comma. */
export type CellTable = {
  readonly rows: readonly Cells[];
  readonly placeOf: Readonly<Partial<Record<Column, number>>>;
  readonly commaDecimals: boolean;
  /** Rows with a cell too many or too few, which are not among `rows`. */
  readonly uneven: readonly { readonly line: number; readonly why: string }[];
};

/**
 * Cuts a readings CSV into cells: with or without byte order mark, any line ends, commas, semicolons or tabs between cells, columns in any order. Rows
 * that are blank throughout are passed over. Refused: a column missing, unknown or given twice.
 */
export const readCells = (text: string, file: string): Result<CellTable> => {
  const delimiter = delimiterOf(text);
  const table = cut(text, file, delimiter);
  if (!table.ok) return table;
  const [head, ...body] = table.value;
  if (head === undefined)
    return fail(`${file}: the file is empty; the first line must name the columns: ${COLUMNS.join(',')}`, file);
  const columns = columnsOf(head.record, file, head.line);
  if (!columns.ok) return columns;
  const filled = body.filter(({ record }) => record.some((cell) => cell.trim() !== ''));
  if (filled.length === 0) return fail(`${file}: there are no rows after the line that names the columns`, file);
  const even = filled.filter(({ record }) => record.length === head.record.length);
  const uneven = filled.filter(({ record }) => record.length !== head.record.length);
  const placeOf = Object.fromEntries(columns.value.map((column, place) => [column, place]));
  const numbers = NUMBERS.flatMap((column) => placeOf[column] ?? []);
  return ok({
    rows: even,
    placeOf,
    commaDecimals:
      delimiter !== ',' &&
      filled.some(({ record }) => numbers.some((place) => COMMA_DECIMAL.test(record[place] ?? ''))),
    uneven: uneven.map((row) => ({ line: row.line, why: unevenWords(row, head.record.length, delimiter) })),
  });
};

const COMMA_DECIMAL = /^\s*[-+]?\d*,\d+\s*$/;
const NUMBERS: readonly Column[] = ['web_m', 'along_mm', 'across_mm', 'value'];

const delimiterOf = (text: string): string => {
  const head = /^\ufeff?([^\r\n]*)/.exec(text)?.[1] ?? '';
  return [';', '\t'].find((mark) => head.includes(mark)) ?? ',';
};

const cut = (text: string, file: string, delimiter: string): Result<readonly Cells[]> => {
  try {
    const read: unknown = parse(text, {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    });
    const records = read as readonly { readonly info: InfoRecord; readonly record: readonly string[] }[];
    return ok(records.map(({ info, record }) => ({ line: info.lines - lineEnds(record), record })));
  } catch (error) {
    const { message, code, lines } = error as CsvError & { readonly lines?: number };
    if (lines === undefined) throw error;
    const why = QUOTES.has(code)
      ? 'a double quote stands where it closes nothing; a quote inside a text is written twice'
      : message;
    return fail(`${file}: line ${lines}: ${why}`, `${file}:${lines}`);
  }
};

const QUOTES: ReadonlySet<CsvError['code']> = new Set([
  'CSV_INVALID_CLOSING_QUOTE',
  'CSV_QUOTE_NOT_CLOSED',
  'CSV_NON_TRIMABLE_CHAR_AFTER_CLOSING_QUOTE',
  'INVALID_OPENING_QUOTE',
]);

const lineEnds = (record: readonly string[]): number =>
  record.reduce((sum, cell) => sum + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0);

const columnsOf = (head: readonly string[], file: string, line: number): Result<readonly Column[]> => {
  const where = `${file}:${line}`;
  const columns: Column[] = [];
  for (const cell of head) {
    const name = cell.trim().toLowerCase();
    const column = COLUMNS.find((known) => known === name);
    if (column === undefined) {
      const meant = nearest(name, COLUMNS);
      return fail(
        `${file}: line ${line}: column ${quoted(cell.trim())} is not known${meant === null ? '' : `, did you mean ${quoted(meant)}?`}; allowed: ${COLUMNS.join(', ')}`,
        where,
      );
    }
    if (columns.includes(column)) return fail(`${file}: line ${line}: column ${quoted(column)} is there twice`, where);
    columns.push(column);
  }
  const missing = REQUIRED_COLUMNS.filter((column) => !columns.includes(column));
  if (missing.length === 0) return ok(columns);
  return fail(
    `${file}: line ${line}: ${missing.length === 1 ? 'column' : 'columns'} ${missing.map((name) => quoted(name)).join(', ')} missing; needed: ${REQUIRED_COLUMNS.join(', ')}`,
    where,
  );
};

const unevenWords = ({ record }: Cells, wanted: number, delimiter: string): string => {
  const hint =
    record.length > wanted && delimiter === ','
      ? '; write decimals with a point, and texts that hold a comma in double quotes'
      : '';
  return `${record.length} cells, but the first line names ${wanted} columns${hint}`;
};
