import { describe, expect, it } from 'vitest';
import { helpLines } from '../../src/ui/draw/help.js';
import { BINDINGS, intentOf, keyLine, keyTable } from '../../src/ui/keymap.js';
import { keystrokes } from '../../src/ui/keystroke.js';
import { quiet } from './fixtures.js';
import { look } from './frame-of.js';

describe('keymap', () => {
  it('no key asks for two things', () => {
    const keys = BINDINGS.flatMap((one) => one.keys);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it('help and the README table name every key', () => {
    const help = helpLines(quiet(), look, 78).join('\n');
    for (const one of BINDINGS) {
      expect(help).toContain(`  ${one.shown} `);
      expect(keyTable()).toContain(`| \`${one.shown}\` |`);
    }
  });

  it('the key line fits its width and offers help first', () => {
    for (const width of [80, 120, 200]) {
      for (const line of keyLine(width, 2, 'running'))
        expect(line.reduce((sum, one) => sum + one.key.length + 1 + one.words.length + 2, 1)).toBeLessThanOrEqual(
          width + 2,
        );
      expect(keyLine(width, 1, 'running')[0]?.[0]?.key).toBe('?');
    }
  });

  it('offers OK to run in make-ready and nothing to key after the end', () => {
    expect(keyLine(80, 1, 'make-ready')[0]?.map((one) => one.key)).toContain('o');
    expect(
      keyLine(200, 2, 'ended')
        .flat()
        .map((one) => one.key),
    ).not.toContain('p');
  });

  it('capital letters are the same keys', () => {
    expect(intentOf({ char: 'P' })).toEqual({ kind: 'pull' });
  });
});

describe('keystrokes', () => {
  it.each([
    ['a', {}, [{ char: 'a' }]],
    ['5A\r', {}, [{ char: '5' }, { char: 'A' }, { name: 'enter' }]],
    ['', { return: true }, [{ name: 'enter' }]],
    ['', { tab: true, shift: true }, [{ name: 'back-tab' }]],
    ['', { delete: true }, [{ name: 'backspace' }]],
    ['\u007F', {}, [{ name: 'backspace' }]],
    ['c', { ctrl: true }, [{ name: 'ctrl-c' }]],
    ['c', { meta: true }, [{ name: 'esc' }, { char: 'c' }]],
    ['\u0007', {}, []],
  ] as const)('%j %j', (input, key, strokes) => {
    expect(keystrokes(input, key)).toEqual(strokes);
  });
});
