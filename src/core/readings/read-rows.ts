import { nearest } from '../nearest.js';
import { quoted } from '../quoted.js';
import type { CheckId } from '../record.js';
import { fail, ok, type Problem, type Result } from '../result.js';
import { type Cells, readCells } from './cells.js';
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
  const rows: Row[] = [];
  for (const cells of table.value.rows) {
    const row = readRow(cells, table.value.commaDecimals);
    if ('why' in row)
      return fail(`${file}: line ${cells.line}: column ${row.column}: ${row.why}`, `${file}:${cells.line}`);
    rows.push(row);
  }
  return ok(rows);
};

type Refused = { readonly column: Column; readonly why: string };

const readRow = ({ line, cells }: Cells, commas: boolean): Row | Refused => {
  const refused: Refused[] = [];
  const take = <T>(column: Column, read: (cell: string) => Result<T>): T | null => {
    const cell = cells.get(column) ?? '';
    if (cell.trim() === '') return null;
    const result = read(column === 'note' ? cell : cell.trim());
    if (result.ok) return result.value;
    refused.push({ column, why: result.problem.message });
    return null;
  };
  const number = (low: number, high: number, unit: string) => (cell: string) =>
    readNumber(cell, commas, { low, high, unit });
  const kind = take('kind', readKind);
  if (kind === null) return refused[0] ?? { column: 'kind', why: `blank; allowed: ${KINDS.join(', ')}` };
  const reach_mm = kind === 'correction' ? 5000 : 500;
  const row: Row = {
    line,
    run: take('run', readText),
    check: take('check', readCheck),
    time: take('time', readTime),
    web_m: take('web_m', number(-1e7, 1e7, 'm')),
    roll: take('roll', readText),
    kind,
    station: take('station', readText),
    along_mm: take('along_mm', number(-reach_mm, reach_mm, 'mm')),
    across_mm: take('across_mm', number(-reach_mm, reach_mm, 'mm')),
    plate: take('plate', oneOf(['clean', 'building', 'dirty'])),
    flaws: take('flaws', readCount),
    labels: take('labels', readCount),
    look: take('look', oneOf(['in', 'off'])),
    edge: take('edge', oneOf(['operator', 'gear'])),
    value: take('value', readValue(kind, number(-1e7, 1e7, ''))),
    by: take('by', readText),
    note: take('note', readNote),
  };
  return refused[0] ?? row;
};

/** What `value` holds depends on the kind: a check, a word, or a number. */
const readValue =
  (kind: Kind, number: (cell: string) => Result<number>) =>
  (cell: string): Result<number | string> => {
    if (kind === 'withdraw') return readCheck(cell);
    return kind === 'ok' ? readText(cell) : number(cell);
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
