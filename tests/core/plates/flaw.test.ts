import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  FLAW_KINDS,
  type Flaw,
  flawFrom,
  flawList,
  flawOf,
  flawSentence,
  flawWords,
  NO_FLAW,
} from '../../../src/core/plates/flaw.js';
import { likelyCause } from '../../../src/core/plates/likely-cause.js';

const flaw = (more: Partial<Flaw>): Flaw => ({ ...NO_FLAW, ...more });
const said = (text: string): Flaw => {
  const read = flawFrom(text);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const refusal = (text: string): string => {
  const read = flawFrom(text);
  return read.ok ? 'taken' : read.problem.message;
};
const anyFlaw: fc.Arbitrary<Flaw> = fc.record({
  kind: fc.option(fc.constantFrom(...FLAW_KINDS), { nil: null }),
  edge: fc.option(fc.constantFrom('leading' as const, 'trailing' as const), { nil: null }),
  comes: fc.option(fc.constantFrom('same place' as const, 'moves' as const), { nil: null }),
});

describe('what the flaw is, as keyed', () => {
  it.each([
    ['fill-in,leading,same', { kind: 'fill-in', edge: 'leading', comes: 'same place' }],
    ['FILL IN, Trailing edge', { kind: 'fill-in', edge: 'trailing', comes: null }],
    ['same place every repeat, v', { kind: 'void', edge: null, comes: 'same place' }],
    ['dried-ink', { kind: 'dried ink', edge: null, comes: null }],
    ['d,m', { kind: 'dried ink', edge: null, comes: 'moves' }],
    ['moving', { kind: null, edge: null, comes: 'moves' }],
    ['h, h', { kind: 'halo', edge: null, comes: null }],
    ['', NO_FLAW],
    [' , ', NO_FLAW],
  ] as const)('%j', (text, meant) => expect(said(text)).toEqual(meant));
  it.each([
    ['s', /may be speck or same place/],
    ['smudge', /"smudge" is no word for a flaw; fill-in, speck, halo/],
    ['speck,halo', /speck and halo at once/],
    ['leading,trailing', /leading and trailing edge at once/],
    ['-', /no word for a flaw/],
    ['fill-in leading', /divided|no word/],
  ])('%j is refused in one clear message', (text, words) => expect(refusal(text)).toMatch(words));
  it('every flaw is written as it is read', () => {
    fc.assert(
      fc.property(anyFlaw, (one) => {
        expect(said(flawList(one))).toEqual(one);
      }),
    );
  });
  it('any text at all is read or refused in words', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(flawFrom(text)).toHaveProperty('ok');
      }),
    );
  });
  it('in words', () => {
    expect(flawWords(flaw({ kind: 'fill-in', edge: 'leading', comes: 'same place' }))).toBe(
      'fill-in at the leading edge, same place every repeat',
    );
    expect(flawWords(flaw({ edge: 'trailing', comes: 'moves' }))).toBe(
      'flaws at the trailing edge, not at the same place',
    );
    expect(flawSentence(flaw({ kind: 'speck' }))).toBe('Speck.');
    expect(flawSentence(NO_FLAW)).toBe('');
  });
  it('a plate that is clean, or was not graded, has none', () => {
    expect(flawOf({ plate: 'clean', flaw_kind: 'halo' })).toEqual(NO_FLAW);
    expect(flawOf({ plate: null, flaw_kind: 'halo' })).toEqual(NO_FLAW);
    expect(flawOf({ plate: 'building', flaw_kind: 'halo' })).toEqual(flaw({ kind: 'halo' }));
  });
});

describe('where to look', () => {
  // TAGA abstract "Plate plugging in water-based flexography": filling-in begins as a rule at the leading edge; at the trailing edge it
  // points to too much nip pressure or ink film.
  it('fill-in: the edge says which', () => {
    const leading = likelyCause(['3'], 6, flaw({ kind: 'fill-in', edge: 'leading' }));
    const trailing = likelyCause(['3'], 6, flaw({ kind: 'fill-in', edge: 'trailing' }));
    expect(leading).toMatch(/leading edge is ink drying in/);
    expect(leading).not.toMatch(/trailing/);
    expect(trailing).toMatch(/too much impression or ink/);
    expect(trailing).not.toMatch(/leading/);
    expect(likelyCause(['3'], 6, flaw({ kind: 'fill-in' }))).toMatch(/leading.*trailing/);
  });
  it('one plate alone: that plate or its anilox; most of the press: ink and drying; nothing said of two: nothing', () => {
    expect(likelyCause(['3'], 6, NO_FLAW)).toBe('One plate alone: that plate or its anilox.');
    expect(likelyCause(['1', '2', '3'], 6, NO_FLAW)).toMatch(/ink and drying/);
    expect(likelyCause(['1', '2'], 6, NO_FLAW)).toBeNull();
    expect(likelyCause(['1', '2', '3'], 6, flaw({ kind: 'fill-in', edge: 'trailing' }))).toMatch(/drying.*impression/);
  });
  it('same place every repeat: the plate; moving: debris, and the plate is not blamed', () => {
    expect(likelyCause(['3'], 6, flaw({ comes: 'same place' }))).toMatch(/sits on the plate/);
    const debris = likelyCause(['3'], 6, flaw({ kind: 'speck', comes: 'moves' }));
    expect(debris).toMatch(/debris, not the plate/);
    expect(debris).not.toMatch(/One plate alone/);
  });
});
