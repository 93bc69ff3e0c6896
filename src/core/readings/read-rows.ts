import { nearest } from '../nearest.js';
import { quoted } from '../quoted.js';
import type { CheckId } from '../record.js';
import { fail, failAtLine, ok, type Problem, type Result } from '../result.js';
import { type Cells, type CellTable, readCells } from './cells.js';
import { fromHarmless } from './harmless.js';
import { type Column, KINDS, type Kind, type Row } from './row.js';

/**
 * Reads a readings CSV row by row, cell by cell. A blank cell is "not read". Kinds, grades, looks and edges may be in capitals; grades, looks and edges
 * may be cut short as long as they stay plain (`b` = building). Numbers are plain decimals: `NaN`, `1e9`, thousands marks are refused with file, line and column;
 * a comma decimal is taken where cells are divided by semicolons or tabs. A time without a zone is taken as UTC.
 */
export const readRows = (text: string, file: string): Result<readonly Row[]> => {
  const table = readCells(text, file);
  if (!table.ok) return table;
  const [uneven] = table.value.uneven;
  if (uneven !== undefined) return failAtLine(file, uneven.line, uneven.why);
  const rows: Row[] = [];
  const read = reader(table.value);
  for (const cells of table.value.rows) {
    const row = read(cells);
    if ('why' in row) return failAtLine(file, cells.line, `column ${row.column}: ${row.why}`);
    rows.push(row);
  }
  return ok(rows);
};

/** The same, but what is wrong with a row keeps back that row only. Fails only when the table itself cannot be read. */
export const readSoundRows = (text: string, file: string): Result<SoundRows> => {
  const table = readCells(text, file);
  if (!table.ok) return table;
  const rows: Row[] = [];
  const refused: { line: number; why: string }[] = [...table.value.uneven];
  const read = reader(table.value);
  for (const cells of table.value.rows) {
    const row = read(cells);
    if ('why' in row) refused.push({ line: cells.line, why: `column ${row.column}: ${row.why}` });
    else rows.push(row);
  }
  return ok({ rows, refused });
};

/** Rows that can be read, and why the others cannot. */
export type SoundRows = { readonly rows: readonly Row[]; readonly refused: readonly RefusedRow[] };
/** A row of the file that is not taken. */
export type RefusedRow = { readonly line: number; readonly why: string };

type Refused = { readonly column: Column; readonly why: string };
type Read<T> = (cell: string) => Result<T>;

const reader = ({ placeOf, commaDecimals }: CellTable): ((cells: Cells) => Row | Refused) => {
  let refused: Refused | null = null;
  const take = <T>(record: readonly string[], column: Column, read: Read<T>): T | null => {
    const place = placeOf[column];
    const cell = place === undefined ? '' : (record[place] ?? '');
    const trimmed = cell.trim();
    if (trimmed === '') return null;
    const result = read(column === 'note' ? cell : trimmed);
    if (result.ok) return result.value;
    refused ??= { column, why: result.problem.message };
    return null;
  };
  const number =
    (low: number, high: number, unit: string): Read<number> =>
    (cell) =>
      readNumber(cell, commaDecimals, { low, high, unit });
  const metres = number(-1e7, 1e7, 'm');
  const plain = number(-1e7, 1e7, '');
  const read_mm = number(-500, 500, 'mm');
  const turned_mm = number(-5000, 5000, 'mm');
  const time = lastRemembered(readTime);
  return ({ line, record }) => {
    refused = null;
    const kind = take(record, 'kind', readKind);
    if (kind === null) return refused ?? { column: 'kind', why: `blank; allowed: ${KINDS.join(', ')}` };
    const mm = kind === 'correction' ? turned_mm : read_mm;
    const row: Row = {
      line,
      run: take(record, 'run', readText),
      check: take(record, 'check', readCheck),
      time: take(record, 'time', time),
      web_m: take(record, 'web_m', metres),
      roll: take(record, 'roll', readText),
      kind,
      station: take(record, 'station', readText),
      along_mm: take(record, 'along_mm', mm),
      across_mm: take(record, 'across_mm', mm),
      plate: take(record, 'plate', readPlate),
      flaws: take(record, 'flaws', readCount),
      labels: take(record, 'labels', readCount),
      look: take(record, 'look', readLook),
      edge: take(record, 'edge', readEdge),
      value: take(record, 'value', kind === 'withdraw' ? readCheck : kind === 'ok' ? readText : plain),
      by: take(record, 'by', readText),
      note: take(record, 'note', readNote),
    };
    return refused ?? row;
  };
};

/** The rows of one check carry the same time: it is worked out once. */
const lastRemembered = <T>(read: Read<T>): Read<T> => {
  let last: { readonly cell: string; readonly result: Result<T> } | null = null;
  return (cell) => {
    if (last?.cell !== cell) last = { cell, result: read(cell) };
    return last.result;
  };
};

const readNumber = (
  cell: string,
  commas: boolean,
  { low, high, unit }: { readonly low: number; readonly high: number; readonly unit: string },
): Result<number> => {
  if (/^[-+−]?\d*,\d+$/.test(cell) && !commas)
    return fail(`found ${quoted(cell)}; write decimals with a point, as 0.05`);
  if (/^[-+−]?\d*\.\d+$/.test(cell) && commas)
    return fail(`found ${quoted(cell)}, but other rows have comma decimals; write all alike`);
  const plain = cell.replace(',', '.').replace('−', '-');
  if (!/^[-+]?(?:\d+(?:\.\d*)?|\.\d+)$/.test(plain))
    return fail(`found ${quoted(cell)}; allowed: a plain number, as 12 or -0.05, or blank`);
  const value = Number(plain);
  if (value < low || value > high)
    return fail(`found ${quoted(cell)}; allowed: ${low} to ${high}${unit === '' ? '' : ` ${unit}`}`);
  return ok(value === 0 ? 0 : value);
};

const readCount = (cell: string): Result<number> =>
  /^\d{1,7}$/.test(cell) ? ok(Number(cell)) : fail(`found ${quoted(cell)}; allowed: a whole number from 0, or blank`);

const readKind = (cell: string): Result<Kind> => {
  const word = cell.toLowerCase();
  const kind = KINDS.find((known) => known === word);
  if (kind !== undefined) return ok(kind);
  const meant = nearest(word, KINDS);
  return fail(
    `found ${quoted(cell)}${meant === null ? '' : `, did you mean ${quoted(meant)}?`}; allowed: ${KINDS.join(', ')}`,
  );
};

const oneOf =
  <T extends string>(words: readonly T[]) =>
  (cell: string): Result<T> => {
    const lowered = cell.toLowerCase();
    const plain = words.filter((word) => word.startsWith(lowered));
    const [only] = plain;
    return only !== undefined && plain.length === 1
      ? ok(only)
      : fail(`found ${quoted(cell)}; allowed: ${words.join(', ')}, or blank`);
  };

const readPlate = oneOf(['clean', 'building', 'dirty']);
const readLook = oneOf(['in', 'off']);
const readEdge = oneOf(['operator', 'gear']);

/** Whole numbers are numbers, anything else stays the name it is. */
const readCheck = (cell: string): Result<CheckId> => {
  const text = readText(cell);
  return text.ok && /^(0|[1-9]\d{0,14})$/.test(text.value) ? ok(Number(text.value)) : text;
};

const readText = (cell: string): Result<string> => {
  const text = fromHarmless(cell);
  const refusal = textProblem(text, 64, CONTROL);
  return refusal === null ? ok(text) : refusal;
};

const readNote = (cell: string): Result<string> => {
  const text = fromHarmless(cell);
  const refusal = textProblem(text, 2000, CONTROL_BUT_LINES);
  return refusal === null ? ok(text) : refusal;
};

const textProblem = (
  text: string,
  longest: number,
  control: RegExp,
): { readonly ok: false; readonly problem: Problem } | null => {
  if (text.length > longest) return fail(`${text.length} characters long; at most ${longest} are allowed`);
  return control.test(text) ? fail(`found ${quoted(text)}, which holds control characters`) : null;
};

const CONTROL = /[\u0000-\u001f\u007f-\u009f]/;
const CONTROL_BUT_LINES = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/;

const TIME = /^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)(:\d\d(?:\.\d{1,9})?)?\s?(Z|[+-]\d\d:?\d\d)?$/i;

const readTime = (cell: string): Result<string> => {
  const found = TIME.exec(cell);
  const zone = (found?.[4] ?? 'Z').toUpperCase().replace(/^([+-]\d\d)(\d\d)$/, '$1:$2');
  const time =
    found === null
      ? Number.NaN
      : Date.parse(`${found[1]}T${found[2]}${(found[3] ?? ':00').slice(0, 7).replace(/\.$/, '')}${zone}`);
  return Number.isNaN(time) || !sameDay(time, found?.[1] ?? '')
    ? fail(`found ${quoted(cell)}; allowed: a time as 2026-03-02T09:14:05Z, or blank`)
    : ok(new Date(time).toISOString());
};

/** 30 February would otherwise be taken as 2 March. */
const sameDay = (time: number, day: string): boolean =>
  Math.abs(Date.parse(`${day}T12:00:00Z`) - time) <= 27 * 3_600_000 &&
  new Date(`${day}T12:00:00Z`).toISOString().startsWith(day);
