import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalText } from '../../../src/core/readings/decimal-text.js';
import { fromHarmless, harmless } from '../../../src/core/readings/harmless.js';
import { type Row, readRows } from '../../../src/core/readings-csv.js';
import { HEAD } from './example-setup.js';

const rows = (text: string): readonly Row[] => {
  const read = readRows(text, 'r.csv');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const refusal = (text: string): string => {
  const read = readRows(text, 'r.csv');
  return read.ok ? 'accepted' : read.problem.message;
};
const line = (cells: Partial<Record<string, string>>): string =>
  `${HEAD}\n${HEAD.split(',')
    .map((column) => cells[column] ?? '')
    .join(',')}\n`;

const ROW = 'A,1,2026-03-02T09:14:05Z,21450.5,7,reading,2,0.05,-0.10,building,3,24,in,gear,,MK,fine';
const READ: Row = {
  line: 2,
  run: 'A',
  check: 1,
  time: '2026-03-02T09:14:05.000Z',
  web_m: 21450.5,
  roll: '7',
  kind: 'reading',
  station: '2',
  along_mm: 0.05,
  across_mm: -0.1,
  plate: 'building',
  flaws: 3,
  labels: 24,
  look: 'in',
  edge: 'gear',
  value: null,
  by: 'MK',
  note: 'fine',
};

describe('rows of a readings CSV', () => {
  test('every column', () => {
    expect(rows(`${HEAD}\n${ROW}\n`)).toEqual([READ]);
  });

  test.each([
    ['byte order mark and Windows line ends', `\ufeff${HEAD}\r\n${ROW}\r\n`],
    ['no last line end', `${HEAD}\n${ROW}`],
    ['semicolons and comma decimals', `${HEAD}\n${ROW}`.replaceAll(',', ';').replaceAll('.', ',')],
    ['semicolons and point decimals', `${HEAD}\n${ROW}`.replaceAll(',', ';')],
    ['tabs and comma decimals', `${HEAD}\n${ROW}`.replaceAll(',', '\t').replaceAll('.', ',')],
    ['quotes around everything', `${HEAD}\n${ROW}`.replace(/[^,\n]+/g, '"$&"')],
    [
      'blanks around cells, capitals in the head',
      `${HEAD.toUpperCase()}\n${ROW}`.replaceAll(',', ' , ').replace(' fine', 'fine'),
    ],
    ['a blank last row of a spreadsheet', `${HEAD}\n${ROW}\n${','.repeat(16)}\n\n`],
  ])('%s', (_, text) => {
    expect(rows(text)).toEqual([READ]);
  });

  test('columns in any order, the last eight may be absent', () => {
    const columns = HEAD.split(',');
    const cells = ROW.split(',');
    fc.assert(
      fc.property(
        fc.shuffledSubarray(
          columns.map((_, i) => i),
          { minLength: columns.length },
        ),
        fc.integer({ min: 9, max: 17 }),
        (order, kept) => {
          const places = order.filter((i) => i < kept);
          const [read] = rows(`${places.map((i) => columns[i]).join(',')}\n${places.map((i) => cells[i]).join(',')}`);
          const absent = Object.fromEntries(columns.slice(kept).map((column) => [column, null]));
          expect(read).toEqual({ ...READ, ...absent });
        },
      ),
    );
  });

  test('blank is not read', () => {
    expect(rows(line({ kind: 'note' }))[0]).toMatchObject({
      along_mm: null,
      across_mm: null,
      check: null,
      time: null,
      web_m: null,
      flaws: null,
      look: null,
    });
  });

  test('a check keeps its name; capitals and plain short forms are taken', () => {
    expect(rows(line({ kind: 'READING', check: '0012', plate: 'B', look: 'IN', edge: 'Op' }))[0]).toMatchObject({
      kind: 'reading',
      check: '0012',
      plate: 'building',
      look: 'in',
      edge: 'operator',
    });
    expect(rows(line({ kind: 'reading', check: '12a' }))[0]?.check).toBe('12a');
    expect(rows(line({ kind: 'withdraw', value: '12' }))[0]?.value).toBe(12);
    expect(rows(line({ kind: 'reading', along_mm: '-0.00' }))[0]?.along_mm).toBe(0);
    expect(rows(line({ kind: 'reading', along_mm: '+.05', across_mm: '−0.05' }))[0]).toMatchObject({
      along_mm: 0.05,
      across_mm: -0.05,
    });
  });

  test.each([
    ['2026-03-02T09:14:05Z', '2026-03-02T09:14:05.000Z'],
    ['2026-03-02 09:14', '2026-03-02T09:14:00.000Z'],
    ['2026-03-02T09:14:05.1204+01:00', '2026-03-02T08:14:05.120Z'],
    ['2026-03-02T09:14:05-0530', '2026-03-02T14:44:05.000Z'],
  ])('time %s', (time, utc) => {
    expect(rows(line({ kind: 'note', time }))[0]?.time).toBe(utc);
  });

  test('line numbers count lines of the file, also after a note of several lines', () => {
    const text = `${HEAD}\n,,,,,note,,,,,,,,,,,"one\ntwo"\n\n,,,,,note,,,,,,,,,,,three\n`;
    expect(rows(text).map(({ line: number, note }) => [number, note])).toEqual([
      [2, 'one\ntwo'],
      [5, 'three'],
    ]);
  });

  test.each([
    [
      '',
      'r.csv: the file is empty; the first line must name the columns: run,check,time,web_m,roll,kind,station,along_mm,across_mm,plate,flaws,labels,look,edge,value,by,note',
    ],
    [HEAD, 'r.csv: there are no rows after the line that names the columns'],
    [
      `${HEAD.replace('station,', '')}\n${ROW}`,
      'r.csv: line 1: column "station" missing; needed: run, check, time, web_m, roll, kind, station, along_mm, across_mm',
    ],
    [
      `${HEAD.replace('plate', 'plait')}\n${ROW}`,
      `r.csv: line 1: column "plait" is not known, did you mean "plate"?; allowed: ${HEAD.replaceAll(',', ', ')}`,
    ],
    [`${HEAD.replace('plate', 'note')}\n${ROW}`, 'r.csv: line 1: column "note" is there twice'],
    [
      `${HEAD}\n${ROW.replace('0.05', '0,05')}`,
      'r.csv: line 2: 18 cells, but the first line names 17 columns; write decimals with a point, and texts that hold a comma in double quotes',
    ],
    [`${HEAD}\n${ROW.replace(',fine', '')}`, 'r.csv: line 2: 16 cells, but the first line names 17 columns'],
    [
      `${HEAD}\n${ROW.replace('0.05', '"0,05"')}`,
      'r.csv: line 2: column along_mm: found "0,05"; write decimals with a point, as 0.05',
    ],
    [
      `${HEAD}\n${ROW}\n${ROW.replace('fine', '"fine')}`,
      'r.csv: line 3: a double quote stands where it closes nothing; a quote inside a text is written twice',
    ],
    [
      `${HEAD}\n${ROW.replace('fine', 'fi"ne')}`,
      'r.csv: line 2: a double quote stands where it closes nothing; a quote inside a text is written twice',
    ],
    [
      `${HEAD}\n${ROW}`.replaceAll(',', ';').replace('0.05', '0,05'),
      'r.csv: line 2: column web_m: found "21450.5", but other rows have comma decimals; write all alike',
    ],
  ])('%j is refused', (text, message) => {
    expect(refusal(text)).toBe(message);
  });

  test.each([
    ['along_mm', 'NaN', 'found "NaN"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['along_mm', '1e9', 'found "1e9"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['along_mm', 'Infinity', 'found "Infinity"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['along_mm', '0x10', 'found "0x10"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['along_mm', '5 mm', 'found "5 mm"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['along_mm', '1000000000', 'found "1000000000"; allowed: -500 to 500 mm'],
    ['web_m', '1 000', 'found "1 000"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['web_m', '=1+1', 'found "=1+1"; allowed: a plain number, as 12 or -0.05, or blank'],
    ['plate', 'dirtier', 'found "dirtier"; allowed: clean, building, dirty, or blank'],
    ['plate', 'ok', 'found "ok"; allowed: clean, building, dirty, or blank'],
    ['look', 'out', 'found "out"; allowed: in, off, or blank'],
    ['edge', 'left', 'found "left"; allowed: operator, gear, or blank'],
    ['flaws', '-1', 'found "-1"; allowed: a whole number from 0, or blank'],
    ['flaws', '1.5', 'found "1.5"; allowed: a whole number from 0, or blank'],
    ['labels', '1e3', 'found "1e3"; allowed: a whole number from 0, or blank'],
    ['time', '2.3.2026', 'found "2.3.2026"; allowed: a time as 2026-03-02T09:14:05Z, or blank'],
    ['time', '2026-02-30T09:14Z', 'found "2026-02-30T09:14Z"; allowed: a time as 2026-03-02T09:14:05Z, or blank'],
    ['time', '2026-03-02T29:14Z', 'found "2026-03-02T29:14Z"; allowed: a time as 2026-03-02T09:14:05Z, or blank'],
    ['by', '\u001b[2J', 'found "<1B>[2J", which holds control characters'],
    ['run', 'x'.repeat(65), '65 characters long; at most 64 are allowed'],
  ])('%s %j is refused', (column, cell, message) => {
    expect(refusal(line({ kind: 'reading', [column]: cell }))).toBe(`r.csv: line 2: column ${column}: ${message}`);
  });

  test('an unknown or blank kind', () => {
    const kinds =
      'ok, reading, correction, roll, finished, wash, speed, stop, start, plate, die, reference, tolerance, seen, withdraw, counter, end, note';
    expect(refusal(line({ kind: 'corection' }))).toBe(
      `r.csv: line 2: column kind: found "corection", did you mean "correction"?; allowed: ${kinds}`,
    );
    expect(refusal(line({ run: 'A' }))).toBe(`r.csv: line 2: column kind: blank; allowed: ${kinds}`);
    expect(refusal(line({ kind: '__proto__' }))).toBe(
      `r.csv: line 2: column kind: found "__proto__"; allowed: ${kinds}`,
    );
  });

  test('any text at all is read or refused in words', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), fc.boolean(), (text, withHead) => {
        expect(refusal(withHead ? `${HEAD}\n${text}` : text)).toMatch(/^(accepted|r\.csv: .+)/);
      }),
      { numRuns: 500 },
    );
  });
});

describe('cells that are written', () => {
  test('a number never has an exponent and reads back the same', () => {
    expect(decimalText(1e-7)).toBe('0.0000001');
    expect(decimalText(-1.25e-10)).toBe('-0.000000000125');
    expect(decimalText(1.5e21)).toBe('1500000000000000000000');
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(decimalText(value)).toMatch(/^-?\d+(\.\d+)?$/);
        expect(Number(decimalText(value))).toBe(value === 0 ? 0 : value);
      }),
    );
  });

  test('a text that a spreadsheet would run is made harmless, and every text comes back whole', () => {
    expect(['=1+1', '+1', '-1', '@x', "'=x", 'plain', "it's"].map(harmless)).toEqual([
      "'=1+1",
      "'+1",
      "'-1",
      "'@x",
      "''=x",
      'plain',
      "it's",
    ]);
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom("'", '=', '+', '-', '@', 'a', '\t') }), (text) => {
        expect(fromHarmless(harmless(text))).toBe(text);
        expect(harmless(text)).not.toMatch(/^[=+\-@\t\r]/);
      }),
    );
  });
});
