import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RecordBody } from '../../../src/core/record.js';
import { HEAD, refusalOf, runsOf } from './example-setup.js';

const file = (...lines: readonly string[]): string => [HEAD, ...lines].join('\n');
const bodies = (...lines: readonly string[]): readonly RecordBody[] =>
  runsOf(file(...lines)).flatMap(({ records }) => records.map(({ body }) => body));
const refusal = (...lines: readonly string[]): string => refusalOf(file(...lines));

const CHECK = [
  'A,1,2026-03-02T09:14:05Z,700,1,reading,1,,,clean,0,24,,,,MK,',
  'A,1,2026-03-02T09:14:05Z,700,1,reading,2,0.05,-0.05,building,2,24,,,,MK,loupe',
  'A,1,2026-03-02T09:14:05Z,700,1,reading,3,,,,,,in,,,MK,',
  'A,1,2026-03-02T09:14:05Z,700,1,reading,D,0.2,,,,,,operator,,MK,',
  'A,1,2026-03-02T09:14:05Z,700,1,reading,D,0.1,,,,,,gear,,MK,',
];

describe('rows as records', () => {
  test('the rows of one check are one record, readings in the order of the job', () => {
    const [run] = runsOf(file(...CHECK));
    const blank = { along_mm: null, across_mm: null, look: null, edge: null, plate: null, flaws: null, labels: null };
    expect(run).toEqual({
      run: 'A',
      records: [
        {
          at: '2026-03-02T09:14:05.000Z',
          by: 'MK',
          run: 'A',
          check: 1,
          web_m: 700,
          line: 2,
          body: {
            type: 'check',
            check: 1,
            web_m: 700,
            roll: '1',
            pulled_at: '2026-03-02T09:14:05.000Z',
            source: 'keyed',
            place: null,
            readings: [
              { ...blank, station: '1', plate: 'clean', flaws: 0, labels: 24 },
              {
                ...blank,
                station: '2',
                along_mm: 0.05,
                across_mm: -0.05,
                plate: 'building',
                flaws: 2,
                labels: 24,
                note: 'loupe',
              },
              { ...blank, station: '3', look: 'in' },
              { ...blank, station: 'D', along_mm: 0.2, edge: 'operator' },
              { ...blank, station: 'D', along_mm: 0.1, edge: 'gear' },
            ],
          },
        },
      ],
    });
  });

  test('the order of rows within a check means nothing', () => {
    const expected = bodies(...CHECK);
    fc.assert(
      fc.property(fc.shuffledSubarray([...CHECK], { minLength: CHECK.length }), (shuffled) => {
        expect(bodies(...shuffled)).toEqual(expected);
      }),
    );
  });

  test('cells left blank on some rows of a check are those of the others; a row without a station is a note on the whole', () => {
    const [check] = bodies(
      'A,1,,700,1,reading,2,0.05,,,,,,,,,',
      'A,1,,,,reading,3,0.05,,,,,,,,,',
      'A,1,,,,reading,,,,,,,,,,,light flickers',
    );
    expect(check).toMatchObject({ web_m: 700, roll: '1', pulled_at: null, note: 'light flickers' });
  });

  test('a sensor check', () => {
    expect(bodies('A,1,,700,,reading,2,0.05,,,,,,,,sensor,')[0]).toMatchObject({ source: 'sensor' });
  });

  test('every other kind', () => {
    expect(
      bodies(
        'A,1,,-20,,reading,2,0,0,,,,,,,,',
        'A,,,0,,ok,,,,,,,,,,MK,',
        'A,,,0,,tolerance,print,0.2,,,,,,,,,',
        'A,,,0,,tolerance,D,0.5,0.6,,,,,,,,',
        'A,,,10,,speed,,,,,,,,,85,,',
        'A,,,20,,stop,,,,,,,,,,,',
        'A,,,20,,start,,,,,,,,,40,,',
        'A,,,20,,start,,,,,,,,,,,',
        'A,,,30,,correction,2,-0.06,0.03,,,,,,,MK,',
        'A,,,25,,wash,3,,,,,,,,,,',
        'A,,,30,,wash,,,,,,,,,,,',
        'A,,,2000,,roll,,,,,,,,,4000,,',
        'A,,,2000,1,finished,,,,,,,,,,,',
        'A,,,2000,,plate,2,,,,,,,,,,',
        'A,,,2000,,die,,,,,,,,,,,',
        'A,,,2000,,reference,3,,,,,,,,,,',
        'A,,,,,seen,,,,,,,,,,,',
        'A,,,,,withdraw,,,,,,,,,1,,',
        'A,,,,,note,,,,,,,,,,,damp stock',
        'A,,,2100,,note,3,,,,,,,,,,streak',
        'A,,,2100,,end,,,,,,,,,,,',
      ).slice(1),
    ).toEqual([
      { type: 'ok', web_m: 0, zero_m: null, passed_by: 'MK', check: 1, hold_to: 'aim' },
      { type: 'tolerance', web_m: 0, station: '1', along_mm: 0.2, across_mm: null },
      { type: 'tolerance', web_m: 0, station: '2', along_mm: 0.2, across_mm: null },
      { type: 'tolerance', web_m: 0, station: '3', along_mm: 0.2, across_mm: null },
      { type: 'tolerance', web_m: 0, station: 'D', along_mm: 0.5, across_mm: 0.6 },
      { type: 'speed', web_m: 10, m_per_min: 85 },
      { type: 'stop', web_m: 20 },
      { type: 'start', web_m: 20, m_per_min: 40 },
      { type: 'start', web_m: 20 },
      { type: 'correction', station: '2', axis: 'along', move_mm: -0.06, teeth: null, divisions: null, web_m: 30 },
      { type: 'correction', station: '2', axis: 'across', move_mm: 0.03, teeth: null, divisions: null, web_m: 30 },
      { type: 'wash', station: '3', web_m: 25 },
      { type: 'wash', station: 'all', web_m: 30 },
      { type: 'roll', web_m: 2000, length_m: 4000, roll: null, also_finished: false },
      { type: 'finished', web_m: 2000, roll: '1' },
      { type: 'plate', station: '2', web_m: 2000 },
      { type: 'die', web_m: 2000 },
      { type: 'reference', station: '3', web_m: 2000 },
      { type: 'seen', web_m: 2000 },
      { type: 'withdraw', check: 1, entry: null, web_m: null },
      { type: 'note', web_m: null, text: 'damp stock' },
      { type: 'note', web_m: 2100, text: 'streak', station: '3' },
      { type: 'end', web_m: 2100 },
    ]);
  });

  test('held to the passed sample, when the row says so', () => {
    expect(bodies('A,,,0,,ok,,,,,,,,,sample,MK,')[0]).toMatchObject({ hold_to: 'sample' });
    expect(bodies('A,,,0,,ok,,,,,,,,,,MK,hold to sample')[0]).toMatchObject({ hold_to: 'sample', check: null });
  });

  test('in a file without any finished row, a roll row is both; its number is the roll last named', () => {
    expect(bodies('A,1,,700,7,reading,2,0,0,,,,,,,,', 'A,,,750,,roll,,,,,,,,,,,')[1]).toEqual({
      type: 'roll',
      web_m: 750,
      length_m: null,
      roll: '7',
      also_finished: true,
    });
    expect(bodies('A,,,750,8,roll,,,,,,,,,,,')[0]).toMatchObject({ roll: '8', also_finished: true });
    expect(bodies('A,1,,700,7,reading,2,0,0,,,,,,,,', 'A,,,750,,finished,,,,,,,,,,,')[1]).toEqual({
      type: 'finished',
      web_m: 750,
      roll: '7',
    });
  });

  test('many runs in one file, also interleaved, each with its own time and web position', () => {
    const runs = runsOf(
      file(
        'A,1,2026-03-02T09:00Z,700,,reading,2,0,0,,,,,,,,',
        'B,1,2026-03-02T08:00Z,100,,reading,2,0,0,,,,,,,,',
        'A,2,2026-03-02T10:00Z,800,,reading,2,0,0,,,,,,,,',
        ',1,,5,,reading,2,0,0,,,,,,,,',
      ),
    );
    expect(runs.map(({ run, records }) => [run, records.map(({ check, web_m }) => [check, web_m])])).toEqual([
      [
        'A',
        [
          [1, 700],
          [2, 800],
        ],
      ],
      ['B', [[1, 100]]],
      [null, [[1, 5]]],
    ]);
  });

  test('a counter that was reset: what the rows say is kept, the position goes on', () => {
    const [run] = runsOf(
      file(
        'A,1,,21400,,reading,2,0,0,,,,,,,,',
        'A,,,0,,counter,,,,,,,,,21450.3,,',
        'A,2,,100.4,,reading,2,0,0,,,,,,,,',
      ),
    );
    expect(run?.records.map(({ web_m, body }) => [web_m, 'web_m' in body ? body.web_m : null])).toEqual([
      [21400, 21400],
      [0, 21450.3],
      [100.4, 21550.7],
    ]);
    expect(
      bodies(
        'A,1,,21400,,reading,2,0,0,,,,,,,,',
        'A,,,21450,,counter,,,,,,,,,21450,,',
        'A,2,,100,,reading,2,0,0,,,,,,,,',
      ).map((body) => 'web_m' in body && body.web_m),
    ).toEqual([21400, 21450, 21550]);
  });

  test('a correction or a wash may be recorded late, and a check keyed anew once it was withdrawn', () => {
    expect(
      refusal(
        'A,1,2026-03-02T09:14Z,700,,reading,2,0,0,,,,,,,,',
        'A,,2026-03-02T09:00Z,650,,correction,2,0.05,,,,,,,,,',
        'A,,2026-03-02T09:20Z,640,,wash,2,,,,,,,,,,',
        'A,2,2026-03-02T09:30Z,700,,reading,2,0,0,,,,,,,,',
      ),
    ).toBe('accepted');
    expect(
      refusal('A,1,,700,,reading,2,0.9,0,,,,,,,,', 'A,,,,,withdraw,,,,,,,,,1,,', 'A,1,,700,,reading,2,0.09,0,,,,,,,,'),
    ).toBe('accepted');
  });

  test.each([
    [
      ['A,1,,700,,reading,7,0,0,,,,,,,,'],
      'line 2: column station: found "7", which is not on the press; allowed: "1", "2", "3", "D"',
    ],
    [['A,1,,700,,reading,,0,0,,,,,,,,'], 'line 2: column station: blank; give the station that was read'],
    [['A,,,700,,reading,2,0,0,,,,,,,,'], 'line 2: column check: blank; a reading belongs to a numbered check'],
    [
      ['A,1,,,,reading,2,0,0,,,,,,,,'],
      'line 2: column web_m: blank on every row of check 1; give the counter when the sample was pulled',
    ],
    [
      ['A,1,,700,,reading,2,0,0,,,,,,,,', 'A,1,,701,,reading,3,0,0,,,,,,,,'],
      'line 3: column web_m: found 701, but check 1 has 700 on line 2; one check is one sample',
    ],
    [
      ['A,1,,700,1,reading,2,0,0,,,,,,,,', 'A,1,,700,2,reading,3,0,0,,,,,,,,'],
      'line 3: column roll: found "2", but check 1 has "1" on line 2; one check is one sample',
    ],
    [
      ['A,1,,700,,reading,2,0,0,,,,,,,,', 'A,1,,700,,reading,2,0,0,,,,,,,,'],
      'line 3: station "2" stands twice in check 1; for the two edges of the web fill in column edge on both',
    ],
    [
      ['A,1,,700,,reading,2,0,0,,,,,,,sensor,', 'A,1,,700,,reading,3,0,0,,,,,,,MK,'],
      'line 2: column by: check 1 is of the sensor on some rows and keyed on others; make it two checks',
    ],
    [
      ['A,1,,700,,reading,2,0,0,,3,,,,,,'],
      'line 2: column labels: blank or 0, but flaws were counted; give the number of labels that were inspected',
    ],
    [
      ['A,1,,700,,reading,2,0,0,,3,0,,,,,'],
      'line 2: column labels: blank or 0, but flaws were counted; give the number of labels that were inspected',
    ],
    [
      ['A,2,,700,,reading,2,0,0,,,,,,,,', 'A,,,700,,stop,,,,,,,,,,,', 'A,2,,700,,reading,3,0,0,,,,,,,,'],
      'line 4: check 2 is there already, further up; keep the rows of a check together, or withdraw it first',
    ],
    [
      ['A,2,,700,,reading,2,0,0,,,,,,,,', 'A,3,,690,,reading,2,0,0,,,,,,,,'],
      'line 3: column web_m: found 690, but the web was at 700 m already; rows go forward (a counter that was reset needs a counter row)',
    ],
    [
      ['A,2,,700,,reading,2,0,0,,,,,,,,', 'A,,,690,,stop,,,,,,,,,,,'],
      'line 3: column web_m: found 690, but the web was at 700 m already; rows go forward (a counter that was reset needs a counter row)',
    ],
    [
      ['A,2,2026-03-02T09:14Z,700,,reading,2,0,0,,,,,,,,', 'A,3,2026-03-02T09:13Z,710,,reading,2,0,0,,,,,,,,'],
      'line 3: column time: 2026-03-02T09:13:00.000Z is before 2026-03-02T09:14:00.000Z of the rows above; rows must be in order of time',
    ],
    [['A,,,,,stop,,,,,,,,,,,'], 'line 2: column web_m: blank, and no row before gives a web position'],
    [
      ['A,,,0,,correction,2,,,,,,,,,,'],
      'line 2: columns along_mm and across_mm: blank or 0; a correction says how far the print was moved',
    ],
    [['A,,,0,,correction,,0.05,,,,,,,,,'], 'line 2: column station: blank; it is needed on a correction row'],
    [['A,,,0,,speed,,,,,,,,,,,'], 'line 2: column value: blank; it is needed on a speed row'],
    [['A,,,0,,speed,,,,,,,,,-5,,'], 'line 2: column value: found -5; a speed is 0 m/min or more'],
    [['A,,,0,,roll,,,,,,,,,0,,'], 'line 2: column value: found 0; the length of a roll is more than 0 m'],
    [
      ['A,,,0,,finished,,,,,,,,,,,'],
      'line 2: column roll: blank, and no row before names a roll; it is needed on a finished row',
    ],
    [
      ['A,,,0,,reference,D,,,,,,,,,,'],
      'line 2: column station: found "D", which cannot be the reference: it is the die, or has no mark that can be read',
    ],
    [
      ['A,,,0,,tolerance,2,,,,,,,,,,'],
      'line 2: columns along_mm and across_mm: blank; a tolerance row gives mm each way from the aim',
    ],
    [['A,,,0,,tolerance,2,0,,,,,,,,,'], 'line 2: found a tolerance of 0 mm; allowed: more than 0 and at most 50'],
    [['A,,,0,,withdraw,,,,,,,,,,,'], 'line 2: column value: blank; it is needed on a withdraw row'],
    [['A,,,0,,counter,,,,,,,,,,,'], 'line 2: column value: blank; it is needed on a counter row'],
    [['A,,,0,,note,,,,,,,,,,,'], 'line 2: column note: blank; it is needed on a note row'],
    [
      ['A,,,0,,wash,9,,,,,,,,,,'],
      'line 2: column station: found "9", which is not on the press; allowed: "1", "2", "3", "D"',
    ],
  ])('%j is refused', (lines, message) => {
    expect(refusal(...lines)).toBe(`r.csv: ${message}`);
  });
});
