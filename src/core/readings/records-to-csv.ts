import { withoutHidden } from '../hidden-characters.js';
import { flawList, flawOf } from '../plates/flaw.js';
import type { Check, LogRecord, RecordBody } from '../record.js';
import { decimalText } from './decimal-text.js';
import { withFlaw } from './flaw-note.js';
import { harmless } from './harmless.js';
import { inOrderOfTime, type ToWrite } from './in-order-of-time.js';
import { COLUMNS, type Column, type Kind } from './row.js';

/**
 * Records of a run as a readings CSV: in order of time (a check stands where its sample was pulled), positions counted from OK to run. It reads back to
 * the same records; what the flaw on a plate is stands first in the note (see flaw-note). What was taken back by its number, or taken back and keyed again, is left out; a time that goes back because the clock was set is left
 * blank. What has no column goes with the NDJSON export only: teeth and divisions of a correction, which sample place, how a counter was come by,
 * spread and strength of a sensor's repeats, pulls, shift changes, what became of held product, the life of the sensor. Text that a spreadsheet would run
 * as a formula is made harmless.
 */
export const recordsToCsv = (records: readonly ToWrite[], run: string | null): string =>
  [...csvLines(() => records, run)].join('');

/**
 * The same, a line at a time with its line end. `records` gives all of them, first to last, each time it is asked, so that a log of any length is written out
 * and never held: in memory are the numbers of its checks, and the checks that stand before others which were entered earlier.
 */
export function* csvLines(records: () => Iterable<ToWrite>, run: string | null): Generator<string> {
  const ordered = inOrderOfTime(records);
  const runCell = run === null ? '' : textOf(run);
  yield `${COLUMNS.join(',')}\r\n`;
  let last = '';
  for (const record of ordered)
    for (const cells of rowsOf(record)) {
      const time = (cells.time ?? '') < last ? '' : (cells.time ?? '');
      if (time !== '') last = time;
      yield `${lineOf(cells, runCell, time)}\r\n`;
    }
}

/** A record of a log, ready to write. */
export const fromLogRecord = (record: LogRecord): ToWrite => ({
  at: record.at,
  by: record.by,
  body: record,
  seq: record.seq,
});

/** The records of a log, ready to write. */
export const fromLog = (records: readonly LogRecord[]): readonly ToWrite[] => records.map(fromLogRecord);

type CellsOut = Partial<Readonly<Record<Column, string>>>;

const rowsOf = ({ at, by, body }: ToWrite): readonly CellsOut[] => {
  if (body.type === 'check') return checkRows(body, at, by);
  const cells = cellsOf(body);
  return cells === null
    ? []
    : [{ ...(at === null ? {} : { time: at }), ...(by === null ? {} : { by: textOf(by) }), ...cells }];
};

/** Written out cell by cell: rows that are copied from one another cost three times as much, and a long run has a million. */
const checkRows = (check: Check, at: string | null, by: string | null): readonly CellsOut[] => {
  const who = check.source === 'sensor' ? 'sensor' : by === 'sensor' ? null : by;
  const number = checkText(check.check);
  const time = check.pulled_at ?? at ?? '';
  const web_m = decimalText(check.web_m);
  const roll = textOf(check.roll);
  const name = textOf(who);
  const rows = check.readings.map(
    (reading): CellsOut => ({
      check: number,
      time,
      web_m,
      roll,
      kind: 'reading',
      station: harmless(reading.station),
      along_mm: numberText(reading.along_mm),
      across_mm: numberText(reading.across_mm),
      plate: reading.plate ?? '',
      flaws: numberText(reading.flaws),
      labels: numberText(reading.labels),
      look: reading.look ?? '',
      edge: reading.edge ?? '',
      by: name,
      note: textOf(withFlaw(flawList(flawOf(reading)), reading.note ?? null)),
    }),
  );
  if (check.note === undefined) return rows;
  return [...rows, { check: number, time, web_m, roll, kind: 'reading', by: name, note: textOf(check.note) }];
};

/** The cells of an act, or null when it has no row. */
const cellsOf = (body: Exclude<RecordBody, Check>): CellsOut | null => {
  const at = (kind: Kind, more: CellsOut = {}): CellsOut => ({
    kind,
    web_m: 'web_m' in body ? numberText(body.web_m) : '',
    ...more,
  });
  switch (body.type) {
    case 'ok':
      return at('ok', {
        check: body.check === null ? '' : checkText(body.check),
        by: textOf(body.passed_by),
        value: body.hold_to === 'sample' ? 'sample' : '',
      });
    case 'correction':
      return at('correction', { station: textOf(body.station), [`${body.axis}_mm`]: decimalText(body.move_mm) });
    case 'roll':
      return at('roll', { value: numberText(body.length_m), roll: textOf(body.roll ?? null) });
    case 'finished':
      return at('finished', { roll: textOf(body.roll) });
    case 'wash':
    case 'plate':
    case 'reference':
      return at(body.type, { station: textOf(body.station) });
    case 'tolerance':
      return at('tolerance', {
        station: textOf(body.station),
        along_mm: numberText(body.along_mm),
        across_mm: numberText(body.across_mm),
      });
    case 'speed':
      return at('speed', { value: decimalText(body.m_per_min) });
    case 'start':
      return at('start', { value: numberText(body.m_per_min ?? null) });
    case 'counter':
      return at('counter', { value: decimalText(body.offset_m) });
    case 'withdraw':
      return body.check === null ? null : at('withdraw', { value: checkText(body.check) });
    case 'web-set':
      return at('note', {
        note: textOf(`${body.what} changed${body.looked_to === undefined ? '' : `: ${body.looked_to}`}`),
      });
    case 'note':
      return at('note', { note: textOf(body.text), station: textOf(body.station ?? null) });
    case 'stop':
    case 'die':
    case 'seen':
    case 'end':
      return at(body.type);
    default:
      return null;
  }
};

const checkText = (check: number | string): string => (typeof check === 'number' ? String(check) : textOf(check));
const numberText = (value: number | null): string => (value === null ? '' : decimalText(value));
/** Control characters would be refused on reading back and could drive a terminal; direction marks and zero-width characters show another text. */
const textOf = (text: string | null): string =>
  harmless(withoutHidden(text ?? '').replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/g, ' '));

/** `run` and `time` in place of what stands in the cells: a line is written for each reading of a long run, and no cells are copied for it. */
const lineOf = (cells: CellsOut, run: string, time: string): string => {
  let line = quotedCell(run);
  for (const column of AFTER_RUN) line += `,${quotedCell(column === 'time' ? time : (cells[column] ?? ''))}`;
  return line;
};

const AFTER_RUN = COLUMNS.slice(1);

const quotedCell = (cell: string): string =>
  cell !== '' && /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
