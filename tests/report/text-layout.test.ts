import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { handoverText } from '../../src/report/handover-text.js';
import { textTable } from '../../src/report/text-table.js';
import { textWidth, wrapText } from '../../src/report/wrap-text.js';
import { HOSTILE, hostileShift } from './hostile.js';
import { SHIFTS } from './shifts.js';

describe('text in columns', () => {
  test('no line is wider than asked, at any width, and none is lost', () => {
    for (const view of Object.values(SHIFTS))
      for (const width of [40, 60, 78, 120])
        for (const line of handoverText(view, width).split('\n')) expect(textWidth(line)).toBeLessThanOrEqual(width);
  });

  test('nor with hostile or very long names', () => {
    for (const words of Object.values(HOSTILE))
      for (const line of handoverText(hostileShift(words), 60).split('\n'))
        expect(textWidth(line)).toBeLessThanOrEqual(60);
  });

  test('wrapping keeps every character but the spaces', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), fc.integer({ min: 4, max: 60 }), (text, width) => {
        const lines = wrapText(text, width);
        expect(lines.join('').replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
        for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(width);
      }),
    );
  });

  test('a number is not torn from its thousands or its unit', () => {
    expect(wrapText('drifting since roll 7 (17 550 m), likely', 26)).toEqual([
      'drifting since roll 7',
      '(17 550 m), likely',
    ]);
    expect(wrapText('moved by 0.09 mm', 14)).toEqual(['moved by', '0.09 mm']);
  });

  test('a table: numbers to the right, the widest column broken first', () => {
    const table = {
      kind: 'table',
      caption: '',
      head: 0,
      columns: [{ title: 'Station' }, { title: 'Along', numbers: true }],
      rows: [['a long name of a station', '+0.09']],
    } as const;
    expect(textTable(table, 40)).toEqual([
      'Station                   Along',
      '------------------------  -----',
      'a long name of a station  +0.09',
    ]);
    expect(textTable(table, 20)).toEqual([
      'Station        Along',
      '-------------  -----',
      'a long name    +0.09',
      'of a station',
    ]);
  });
});
