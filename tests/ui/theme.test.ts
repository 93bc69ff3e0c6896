import { describe, expect, it } from 'vitest';
import { run } from '../../src/ui/draw/row.js';
import { CHOSEN_COLOURS, glyphs, paint } from '../../src/ui/theme.js';
import { ascii, look } from './frame-of.js';

/** The 16 colours as xterm draws them by default (from memory); terminals differ, so the margin must be wide. */
const XTERM: Readonly<Record<number, readonly [number, number, number]>> = {
  0: [0, 0, 0],
  1: [205, 0, 0],
  3: [205, 205, 0],
  6: [0, 205, 205],
  15: [255, 255, 255],
};

/** Relative luminance and contrast ratio as WCAG 2.1 defines them. */
function contrast(a: number, b: number): number {
  const light = (index: number): number => {
    const [r, g, bl] = (XTERM[index] ?? [0, 0, 0]).map((v) => {
      const s = v / 255;
      return s <= 0.03928 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (bl ?? 0);
  };
  const [hi = 0, lo = 0] = [light(a), light(b)].sort((x, y) => y - x);
  return (hi + 0.05) / (lo + 0.05);
}

describe('looks', () => {
  it('gives 21:1 for black on white, the definition check', () => {
    expect(contrast(0, 15)).toBeCloseTo(21, 5);
  });

  it('every pair of colours we choose reaches 4.5:1 (WCAG 2.1, 1.4.3)', () => {
    for (const one of CHOSEN_COLOURS)
      expect(contrast(one.foreground, one.background), one.style).toBeGreaterThanOrEqual(4.5);
  });

  it('chooses no colour at all with NO_COLOR', () => {
    const styles = ['plain', 'faint', 'strong', 'note', 'act', 'out', 'field', 'key'] as const;
    for (const style of styles)
      expect(paint([run('x', style)], { ...look, color: false })).not.toMatch(/\[[0-9;]*(3[0-9]|4[0-9]|9[0-9])/);
  });

  it('a calm row is sent without any code', () => {
    expect(paint([run('all holding'), run(' ', 'faint')], { ...look, color: true })).toBe('all holding ');
  });

  it('writes the decimal mark of the locale, and leaves times and counters alone', () => {
    expect(paint([run('+0.09 mm at 13:20, 21 450 m. Then')], { ...look, decimal: ',' })).toBe(
      '+0,09 mm at 13:20, 21 450 m. Then',
    );
  });

  it('hostile and wide characters keep their column and cannot steer the terminal', () => {
    expect(paint([run('a\u001B[2Jb\n漢\u200Ec')], look)).toBe('a?[2Jb???c');
  });

  it('every shape has a stand-in of the same width in ASCII', () => {
    for (const [name, drawn] of Object.entries(glyphs(look))) {
      const plain = glyphs(ascii)[name as keyof ReturnType<typeof glyphs>];
      expect(plain).toMatch(/^[\x20-\x7E]+$/);
      if (!name.startsWith('web')) expect(plain.length, name).toBe(drawn.length);
    }
  });

  it('stations, die and reference differ by shape, not by colour', () => {
    for (const one of [glyphs(look), glyphs(ascii)])
      expect(
        new Set([one.print, one.reference, one.die, one.trapFirst, one.trapSecond, one.looked, one.next]).size,
      ).toBe(7);
  });
});
