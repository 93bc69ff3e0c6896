import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { cutRow, row } from '../../src/ui/draw/row.js';
import { drawFrame } from '../../src/ui/frame.js';
import { allInColumns, inColumns, outOfColumns } from '../../src/ui/in-columns.js';
import { paint } from '../../src/ui/theme.js';
import { drifting } from './fixtures.js';
import { look, modelOf } from './frame-of.js';

const shown = (text: string, width = 80): string => paint(cutRow(row(inColumns(text)), width), look);

/** Widths of the letters: Unicode Standard Annex 11, by the library string-width. */
describe('letters that are not one unit and one column', () => {
  it.each([
    ['Pflaume gru\u0308n', 'Pflaume gr\u00fcn', 12],
    ['\u6f22\u5b57 plum', '\u6f22\u5b57 plum', 9],
    ['\ud55c\uae00', '\ud55c\uae00', 4],
    ['x\u030c', 'x\u030c', 1],
    ['\u{20bb7}', '\u{20bb7}', 2],
    ['\uff21', '\uff21', 2],
  ])('%j is shown as %j in %i columns', (text, seen, columns) => {
    expect(inColumns(text).length).toBe(columns);
    expect(shown(text)).toBe(seen);
    expect(stringWidth(seen)).toBe(columns);
    expect(outOfColumns(inColumns(text))).toBe(seen);
  });

  it('a wide letter that has room for half of it is a blank, never a column too many', () => {
    expect(shown('\u6f22\u5b57', 3)).toBe('\u6f22 ');
    expect(shown('\u6f22\u5b57', 1)).toBe(' ');
  });

  it('what steers a terminal, hides or is an emoji stays a question mark', () => {
    expect(shown('a\u202eb\u200bc')).toBe('a?b?c');
    expect(shown('\ue800\uf8ff\u{1f34e}')).toBe('????');
  });

  it('plain data without such letters comes back as it is', () => {
    const view = drifting();
    expect(allInColumns(view)).toBe(view);
  });

  it('a job, a station and a note of wide letters fill the board to its edge and not beyond', () => {
    const view = drifting();
    const named = {
      ...view,
      job: '\u6885\u5b50\u9171 '.repeat(20),
      stations: view.stations.map((one) => ({ ...one, label: `${one.id} \u6df1\u7d2b\u8272` })),
    };
    const rows = drawFrame(modelOf(named, 80, 24)).map((line) => paint(line, { ...look, color: false }));
    for (const line of rows) expect(stringWidth(line)).toBeLessThanOrEqual(80);
    expect(rows.join('\n')).toContain('\u6df1\u7d2b');
    expect(rows[0]).toContain('\u6885\u5b50\u9171');
    expect(rows.join('')).not.toMatch(/[\ue000-\uf8ff?]{2}/);
  });
});

describe('the first row', () => {
  it.each([
    'plum jam lid labels for the autumn order of the northern stores 2026',
    'plumjamlid'.repeat(20),
    `${'p'.repeat(66)} lid`,
  ])('the job "%s" leaves roll, counter and clock where they are', (job) => {
    for (const roll of ['7', 'R-2026-11-29-0007', 'R'.repeat(64)])
      for (const [columns, rows] of [
        [80, 24],
        [120, 40],
      ] as const) {
        const view = { ...drifting(), job };
        const named = { ...view, finished_roll: { ...view.finished_roll, running: roll } };
        const [first] = drawFrame(modelOf(named, columns, rows));
        const text = paint(first ?? [], look);
        expect(text, `${columns} columns`).toMatch(/13:20$/);
        expect(text).toContain(`roll ${roll.slice(0, 12)}`);
        expect(text).toContain('21 4');
      }
  });
});
