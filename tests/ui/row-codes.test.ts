import { describe, expect, it } from 'vitest';
import { run } from '../../src/ui/draw/row.js';
import { createRowCodes } from '../../src/ui/row-codes.js';
import { paint } from '../../src/ui/theme.js';
import { seeded } from '../support/seeded.js';
import { look } from './frame-of.js';

/** A terminal that is only told what changed: a row stays as it was while its code stays the same. */
function terminal(codes: ReturnType<typeof createRowCodes>) {
  let before: readonly string[] = [];
  let shown: string[] = [];
  return (rows: readonly string[]): readonly string[] => {
    const coded = codes.encode(rows);
    shown = coded.map((code, i) => (code === before[i] ? (shown[i] ?? '') : codes.decode(code)));
    before = coded;
    return shown;
  };
}

describe('rows as codes', () => {
  it('a frame shown only where its codes changed is the frame, over 40,000 different rows', () => {
    const random = seeded(3).uniform;
    const show = terminal(createRowCodes());
    const rows = Array.from({ length: 60 }, (_, i) => `row ${i}`);
    for (let frame = 0; frame < 4000; frame += 1) {
      for (let k = 0; k < 10; k += 1)
        rows[Math.floor(random() * rows.length)] = random() < 0.2 ? '' : `row ${Math.floor(random() * 1e6)}`;
      if (show(rows).join('\n') !== rows.join('\n')) expect.fail(`frame ${frame} is not what was drawn`);
    }
    expect(show(rows)).toEqual(rows);
  });

  it('a row is one character, the same as long as the row is the same', () => {
    const codes = createRowCodes();
    const [first = '', second = '', third = ''] = codes.encode([
      'a\u001B[1mbc\u001B[22m',
      'd',
      'a\u001B[1mbc\u001B[22m',
    ]);
    expect([first.length, second.length]).toEqual([1, 1]);
    expect(third).toBe(first);
    expect(codes.decode(`\u001B[2K${first}\r\n${second}`)).toBe('\u001B[2Ka\u001B[1mbc\u001B[22m\r\nd');
  });

  it('what a file could bring in is never taken for a code', () => {
    expect(paint([run('ink \uE001')], look)).toBe('ink ?');
  });
});
