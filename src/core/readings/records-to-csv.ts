import { withoutHidden } from '../hidden-characters.js';
import { flawList, flawOf } from '../plates/flaw.js';
import type { Check, CheckId, LogRecord, RecordBody } from '../record.js';
import { decimalText } from './decimal-text.js';
import { withFlaw } from './flaw-note.js';
import { harmless } from './harmless.js';
import { COLUMNS, type Column, type Kind } from './row.js';

/** A record with the time and the name that stand on it; `at` null when a file gave no time. `seq` where entries are taken back by their number. */
export type ToWrite = {
  readonly at: string | null;
  readonly by: string | null;
  readonly body: RecordBody;
  readonly seq?: number;
};

/**
 * Records of a run as a readings CSV: in order of time (a check stands where its sample was pulled), positions counted from OK to run. It reads back to
 * the same records; what the flaw on a plate is stands first in the note (see flaw-note). What was taken back by its number, or taken back and keyed again, is left out; a time that goes back because the clock was set is left
 * blank. What has no column goes with the NDJSON export only: teeth and divisions of a correction, which sample place, how a counter was come by,
 * spread and strength of a sensor's repeats, pulls, shift changes, what became of held product, the life of the sensor. Text that a spreadsheet would run
 * as a formula is made harmless.
 */
export const recordsToCsv = (records: readonly ToWrite[], run: string | null): string => {
  const rows = inOrderOfTime(asCounted(fromOkToRun(stillStanding(records))));
  let last = '';
  const written = rows.map((cells) => {
    const time = (cells.time ?? '') < last ? '' : (cells.time ?? '');
    if (time !== '') last = time;
    return lineOf({ ...cells, time, run: run === null ? '' : textOf(run) });
  });
  return `${[COLUMNS.join(','), ...written].join('\r\n')}\r\n`;
};

/** The records of a log, ready to write. */
export const fromLog = (records: readonly LogRecord[]): readonly ToWrite[] =>
  records.map((record) => ({ at: record.at, by: record.by, body: record, seq: record.seq }));

type CellsOut = Partial<Readonly<Record<Column, string>>>;

/** Without entries taken back by number, and without the earlier of two keyings of one check. */
const stillStanding = (records: readonly ToWrite[]): readonly ToWrite[] => {
  const entries = new Set(
    records.flatMap(({ body }) => (body.type === 'withdraw' && body.entry !== null ? [body.entry] : [])),
  );
  const last = new Map<CheckId, number>();
  for (const [index, { body }] of records.entries()) if (body.type === 'check') last.set(body.check, index);
  return records.filter(({ body, seq }, index) => {
    if (seq !== undefined && entries.has(seq)) return false;
    const check = body.type === 'check' || body.type === 'withdraw' ? body.check : null;
    return check === null || index >= (last.get(check) ?? 0);
  });
};

/** OK to run makes its counter the zero; what was written before it is so many metres before. */
const fromOkToRun = (records: readonly ToWrite[]): readonly ToWrite[] => {
  const first = records.findIndex(({ body }) => body.type === 'ok' && body.zero_m !== null);
  const body = records[first]?.body;
  const zero_m = body?.type === 'ok' ? (body.zero_m ?? 0) : 0;
  if (zero_m === 0) return records;
  return records.map((record, index) => (index <= first ? { ...record, body: moved(record.body, zero_m) } : record));
};

/** A file carries the counter: after a reset, the position without the offset. */
const asCounted = (records: readonly ToWrite[]): readonly ToWrite[] => {
  let offset_m = 0;
  return records.map((record) => {
    const counted = offset_m === 0 ? record : { ...record, body: movedWeb(record.body, offset_m) };
    if (record.body.type === 'counter') offset_m = record.body.offset_m;
    return counted;
  });
};

const moved = (body: RecordBody, by_m: number): RecordBody => {
  const web = movedWeb(body, by_m);
  return web.type === 'counter' ? { ...web, offset_m: minus(web.offset_m, by_m) } : web;
};

const movedWeb = (body: RecordBody, by_m: number): RecordBody =>
  'web_m' in body && body.web_m !== null ? ({ ...body, web_m: minus(body.web_m, by_m) } as RecordBody) : body;

/** To the micrometre, without the crumbs of binary fractions. */
const minus = (a_m: number, b_m: number): number => Number((a_m - b_m).toFixed(6));

/** The log's order, but a check goes to where its sample was pulled. */
const inOrderOfTime = (records: readonly ToWrite[]): readonly CellsOut[] => {
  let now = '';
  const placed = records.map((record, index) => {
    now = record.at !== null && record.at > now ? record.at : now;
    const pulled = record.body.type === 'check' ? record.body.pulled_at : null;
    return { record, index, key: pulled !== null && pulled < now ? pulled : now };
  });
  return placed
    .toSorted((a, b) => (a.key === b.key ? a.index - b.index : a.key < b.key ? -1 : 1))
    .flatMap(({ record }) => rowsOf(record));
};

const rowsOf = ({ at, by, body }: ToWrite): readonly CellsOut[] => {
  if (body.type === 'check') return checkRows(body, at, by);
  const cells = cellsOf(body);
  return cells === null
    ? []
    : [{ ...(at === null ? {} : { time: at }), ...(by === null ? {} : { by: textOf(by) }), ...cells }];
};

const checkRows = (check: Check, at: string | null, by: string | null): readonly CellsOut[] => {
  const who = check.source === 'sensor' ? 'sensor' : by === 'sensor' ? null : by;
  const shared: CellsOut = {
    kind: 'reading',
    check: checkText(check.check),
    time: check.pulled_at ?? at ?? '',
    web_m: decimalText(check.web_m),
    roll: textOf(check.roll),
    by: textOf(who),
  };
  const rows = check.readings.map(
    (reading): CellsOut => ({
      ...shared,
      station: textOf(reading.station),
      along_mm: numberText(reading.along_mm),
      across_mm: numberText(reading.across_mm),
      plate: reading.plate ?? '',
      flaws: numberText(reading.flaws),
      labels: numberText(reading.labels),
      look: reading.look ?? '',
      edge: reading.edge ?? '',
      note: textOf(withFlaw(flawList(flawOf(reading)), reading.note ?? null)),
    }),
  );
  return check.note === undefined ? rows : [...rows, { ...shared, note: textOf(check.note) }];
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

const lineOf = (cells: CellsOut): string => COLUMNS.map((column) => quotedCell(cells[column] ?? '')).join(',');

const quotedCell = (cell: string): string =>
  /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
