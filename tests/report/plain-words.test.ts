import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plainView, plainWords } from '../../src/report/plain-words.js';
import { HOSTILE } from './hostile.js';

const anyText = fc.string({ unit: 'binary', maxLength: 60 });
const ISOLATES = /[\u2068\u2069]/g;

describe('names and notes made harmless', () => {
  test('no control, escape, direction or invisible character is left, whatever comes in', () => {
    const mixed = fc.array(
      fc.oneof(
        anyText,
        fc.constantFrom(...Object.values(HOSTILE)),
        fc.constantFrom('\u001b[', '\u009d', '\u202e', '\ud800', '\u05d0'),
      ),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(mixed, (parts) => {
        const plain = plainWords(parts.join(''));
        expect(plain.replace(ISOLATES, '')).not.toMatch(
          /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u200e\u200f\u061c\u202a-\u202e\u2060-\u206f\ufeff\ufffe\uffff]/u,
        );
        expect(plain.match(/\u2068/g)?.length ?? 0).toBe(plain.match(/\u2069/g)?.length ?? 0);
      }),
    );
  });

  test('twice is the same as once', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(plainWords(plainWords(text))).toBe(plainWords(text));
      }),
    );
    for (const text of Object.values(HOSTILE)) expect(plainWords(plainWords(text))).toBe(plainWords(text));
  });

  test('ordinary words of any script come through', () => {
    for (const text of ['Ada K.', 'Zoë Ångström', '深绿 3', 'roll 7 (17 550 m), 0.09 mm!', 'наклейка'])
      expect(plainWords(text)).toBe(text);
  });

  test('whole escape sequences go, not only their first character', () => {
    expect(plainWords('\u001b[31mred\u001b[0m')).toBe('red');
    expect(plainWords('a\u001b]0;title\u0007b')).toBe('ab');
    expect(plainWords('a\u001b]8;;http://x\u001b\\link')).toBe('alink');
  });

  test('line ends become one space, right-to-left words are isolated', () => {
    expect(plainWords('one\r\n\n two')).toBe('one two');
    expect(plainWords('by \u05e9\u05dc\u05d5\u05dd 12')).toBe('by \u2068\u05e9\u05dc\u05d5\u05dd\u2069 12');
  });

  test('a view keeps its numbers, nulls and shape', () => {
    expect(plainView({ a: [1, null, 'x\u001b[1m'], b: { c: true } })).toEqual({ a: [1, null, 'x'], b: { c: true } });
  });
});
