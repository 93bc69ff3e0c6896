import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/core/result.js';
import { stationNames } from '../../../src/core/set-up/station-names.js';
import { subsetName } from '../../../src/core/set-up/subset-name.js';
import { understandChoice } from '../../../src/core/set-up/understand-choice.js';
import { understandLength } from '../../../src/core/set-up/understand-length.js';
import { understandLengths } from '../../../src/core/set-up/understand-lengths.js';
import { understandMinutes } from '../../../src/core/set-up/understand-minutes.js';
import { understandStations } from '../../../src/core/set-up/understand-stations.js';
import { understandSubset } from '../../../src/core/set-up/understand-subset.js';
import { understandTolerance } from '../../../src/core/set-up/understand-tolerance.js';
import { understandYesNo } from '../../../src/core/set-up/understand-yes-no.js';

const said = <T>(read: Result<T>): string => (read.ok ? `taken: ${JSON.stringify(read.value)}` : read.problem.message);

describe('a length along the web', () => {
  const gap = { unit: 'm', repeat_mm: 304.8, low_m: 0.01, high_m: 100 } as const;

  // 1 ft = 0.3048 m and 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
  it.each([
    ['1.2', 1.2, '1.2 m'],
    ['1,2 m', 1.2, '1.2 m'],
    [' 4 ft ', 1.2192, '4 ft'],
    ["4'", 1.2192, '4 ft'],
    ['48 in', 1.2192, '48 in'],
    ['1200mm', 1.2, '1200 mm'],
    ['120 cm', 1.2, '120 cm'],
    ['.9', 0.9, '.9 m'],
    ['2 repeats', 0.6096, '2 repeats'],
  ] as const)('%s is %d m', (text, m, kept) => {
    expect(understandLength(text, gap)).toEqual({ ok: true, value: { m, text: kept } });
    expect(understandLength(kept, gap)).toEqual({ ok: true, value: { m, text: kept } });
  });

  it('a number without a unit is in the unit of the job', () => {
    expect(understandLength('6500', { unit: 'ft', repeat_mm: 1, low_m: 10, high_m: 1e6 })).toEqual({
      ok: true,
      value: { m: 1981.2, text: '6500 ft' },
    });
    expect(understandLength('2 000', { unit: 'm', repeat_mm: 1, low_m: 10, high_m: 1e6 })).toEqual({
      ok: true,
      value: { m: 2000, text: '2000 m' },
    });
  });

  it.each([
    ['1200', /100 m.*If it is millimetres, write mm/],
    ['2,000', /can mean 2000 or 2\.000/],
    ['0', /allowed are 0\.01 to 100 m/],
    ['-1', /is not a length/],
    ['1.2.3', /is not a length/],
    ['NaN', /is not a length/],
    ['1e3', /is not a length/],
    ['far', /write it like 1\.2 or 4 ft/],
  ] as const)('%s is refused, once and clearly', (text, words) => {
    expect(said(understandLength(text, gap))).toMatch(words);
  });

  it.each([
    ['1.2 1.2 2', [1.2, 1.2, 2]],
    ['1,2 1,2 2,0', [1.2, 1.2, 2]],
    ['1.2,1.2,2.0', [1.2, 1.2, 2]],
    ['1.2, 1.2; 2', [1.2, 1.2, 2]],
    ['4 ft, 4 ft, 6 ft', [1.2192, 1.2192, 1.8288]],
    ['1.2', [1.2]],
  ] as const)('several on one line: %s', (text, metres) => {
    const read = understandLengths(text, gap);
    expect(read.ok ? read.value.map(({ m }) => m) : read.problem.message).toEqual(metres);
  });
});

describe('a tolerance', () => {
  // 1 in = 25.4 mm exactly: 1/64 in = 0.396875 mm, 1 thou = 0.0254 mm.
  it.each([
    ['0.15', 'mm', 0.15, '0.15 mm'],
    ['0,15', 'mm', 0.15, '0.15 mm'],
    ['± .15', 'mm', 0.15, '.15 mm'],
    ['+/- 6 thou', 'mm', 0.1524, '6 thou'],
    ['15.0', 'mm', 15, '15.0 mm'],
    ['6', 'thou', 0.1524, '6 thou'],
    ['0.006', 'in', 0.1524, '0.006 in'],
    ['0.006"', 'mm', 0.1524, '0.006 in'],
    ['1/64', 'mm', 0.396875, '1/64 in'],
    ['1', '64ths', 0.396875, '1/64 in'],
    ['3', '64ths', 1.190625, '3/64 in'],
  ] as const)('%s in a %s job is %d mm', (text, unit, mm, kept) => {
    expect(understandTolerance(text, unit)).toEqual({ ok: true, value: { mm, text: kept } });
    // What is kept says the same in a job of any unit.
    for (const other of ['mm', 'in', 'thou', '64ths'] as const)
      expect(understandTolerance(kept, other)).toEqual({ ok: true, value: { mm, text: kept } });
  });

  it.each([
    ['15', 'mm', '15 can mean 0.15 mm or 15 mm: write 0.15 or 15.0'],
    ['6', 'in', '6 can mean 0.006 in or 6 in: write 0.006 or 6.0'],
    ['0', 'mm', /never held/],
    ['0.00', 'thou', /never held/],
    ['60.0', 'mm', /more than 50 mm/],
    ['-0.15', 'mm', /is not a tolerance; write it like 0\.15/],
    ['tight', 'in', /write it like 0\.006 or 1\/64/],
    ['1/65', 'mm', /is not a tolerance/],
    ['', 'mm', /is not a tolerance/],
  ] as const)('%s in a %s job is asked back', (text, unit, words) => {
    const answer = said(understandTolerance(text, unit));
    if (typeof words === 'string') expect(answer).toBe(words);
    else expect(answer).toMatch(words);
  });
});

describe('stations', () => {
  it.each([
    ['6', ['1', '2', '3', '4', '5', '6']],
    ['1-4', ['1', '2', '3', '4']],
    ['2 to 4', ['2', '3', '4']],
    ['W 1 2 V', ['W', '1', '2', 'V']],
    ['white deck, plum deck', ['white deck', 'plum deck']],
    ['6,', ['6']],
  ] as const)('%s', (text, ids) => {
    expect(understandStations(text)).toEqual({ ok: true, value: ids });
    expect(understandStations(stationNames(ids))).toEqual({ ok: true, value: ids });
  });

  it.each([
    ['0', /Allowed: 1 to 39/],
    ['40', /Allowed: 1 to 39/],
    ['six', /in digits/],
    ['4-2', /does not count up/],
    ['W W', /"W" is there twice/],
    ['a b/c', /"b\/c" cannot be the name of a station/],
    ['constructor x', /cannot be the name/],
  ] as const)('%s is refused', (text, words) => {
    expect(said(understandStations(text))).toMatch(words);
  });

  const ids = ['1', '2', '3', 'V', 'D'];
  it.each([
    ['all', ids],
    ['none', []],
    ['all but V', ['1', '2', '3', 'D']],
    ['except v, D', ['1', '2', '3']],
    ['3 1', ['1', '3']],
    ['1-3', ['1', '2', '3']],
    ['1 and V', ['1', 'V']],
  ] as const)('of five: %s', (text, chosen) => {
    expect(understandSubset(text, ids)).toEqual({ ok: true, value: chosen });
    expect(understandSubset(subsetName(chosen, ids), ids)).toEqual({ ok: true, value: chosen });
  });

  it('a station that is not there is named, with those that are', () => {
    expect(said(understandSubset('1 7', ids))).toBe('there is no station "7" here; the stations are 1, 2, 3, V, D');
  });
});

describe('words and times', () => {
  it.each([
    ['y', 'y'],
    ['YES', 'y'],
    ['n', 'n'],
    ['No', 'n'],
  ])('%s', (text, kept) => expect(understandYesNo(text)).toEqual({ ok: true, value: { text: kept } }));

  it('what is neither is asked back', () => {
    expect(said(understandYesNo('maybe'))).toBe('"maybe" is neither yes nor no: type y or n');
    expect(said(understandChoice('acros', ['along', 'across', 'both']))).toMatch(/taken: \{"text":"across"\}/);
    expect(said(understandChoice('a', ['along', 'across', 'both']))).toMatch(/is not one of along, across, both/);
    expect(said(understandChoice('acorss', ['along', 'across']))).toMatch(/did you mean "across"\?/);
  });

  it.each([
    ['60', 60],
    ['90 min', 90],
    ['1.5 h', 90],
    ['1,5h', 90],
  ] as const)('%s is %d minutes', (text, minutes) =>
    expect(understandMinutes(text)).toEqual({ ok: true, value: minutes }),
  );

  it.each(['0', 'soon', '2000', '-5'])('%s is not a time between checks', (text) =>
    expect(understandMinutes(text).ok).toBe(false),
  );
});
