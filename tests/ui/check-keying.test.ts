import { describe, expect, it } from 'vitest';
import type { Check } from '../../src/core/record.js';
import { type Desk, sitDown } from './desk.js';
import { drifting, makeReady, pulledTwo, quiet } from './fixtures.js';

const checkOf = (desk: Desk): Check => {
  const found = desk.port.submitted.find((one) => one.type === 'check');
  if (found?.type !== 'check') throw new Error('no check was submitted');
  return found;
};
const readingOf = (desk: Desk, station: string): Check['readings'][number] | undefined =>
  checkOf(desk).readings.find((one) => one.station === station);

describe('keying a check', () => {
  it('takes three keys when all is well', async () => {
    const desk = sitDown(quiet());
    await desk.keys('cw[enter]');
    expect(desk.count()).toBe(3);
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull', 'check']);
    const check = checkOf(desk);
    expect(check.check).toBe(12);
    expect(check.readings.filter((one) => one.look === 'in').map((one) => one.station)).toEqual([
      '2',
      '3',
      '4',
      '5',
      '6',
      'D',
    ]);
    expect(check.readings.filter((one) => one.plate === 'clean').map((one) => one.station)).toEqual([
      '1',
      '2',
      '3',
      '4',
      '5',
      '6',
    ]);
    expect(desk.see()).toContain('Check 12 saved');
  });

  it('a station marked off stays off when all the others are looked at on one key', async () => {
    const desk = sitDown(quiet());
    await desk.keys('cx[enter]l[enter]');
    expect(readingOf(desk, '2')).toMatchObject({ look: 'off', along_mm: null });
    expect(readingOf(desk, '3')).toMatchObject({ look: 'in' });
  });

  it('takes a full check in digits, side and one key a field, and two keys beside', async () => {
    const desk = sitDown(quiet());
    const fields = ['5A', '12G', '1B', '0', '3A', '2O', '0', '1G', 'i', '10A', '20G'];
    await desk.keys('c');
    for (const field of fields.slice(0, -1)) await desk.keys(`${field}[enter]`);
    // The key for the plates takes the last field with it.
    await desk.keys(`${fields.at(-1)}p[enter]`);
    const inFields = fields.reduce((sum, one) => sum + one.length + 1, 0);
    expect(desk.count() - inFields).toBeLessThanOrEqual(2);
    expect(readingOf(desk, '2')).toMatchObject({ along_mm: 0.05, across_mm: -0.12, look: null, plate: 'clean' });
    expect(readingOf(desk, '3')).toMatchObject({ along_mm: -0.01, across_mm: 0 });
    expect(readingOf(desk, '6')).toMatchObject({ along_mm: null, across_mm: null, look: 'in' });
    expect(readingOf(desk, 'D')).toMatchObject({ along_mm: 0.1, across_mm: -0.2, plate: null });
    expect(readingOf(desk, '1')).toMatchObject({ along_mm: null, plate: 'clean' });
  });

  it('shows the reading as it will be taken before Enter, and moves the strip with it', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c');
    const before = desk.see();
    await desk.keys('12A');
    expect(desk.see()).toContain('0.12 AHEAD');
    expect(desk.see().split('\n').slice(2, 11)).not.toEqual(before.split('\n').slice(2, 11));
  });

  it('refuses a number without a side and stays in the field', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5[enter]');
    expect(desk.see()).toContain('which side?');
    await desk.keys('B[enter]');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '2', cell: 'across' });
  });

  it('leaves blank fields unread and never fills one in', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c[enter][enter]5A[end][enter]');
    expect(checkOf(desk).readings).toEqual([
      { station: '3', along_mm: 0.05, across_mm: null, look: null, edge: null, plate: null, flaws: null, labels: null },
    ]);
  });

  it('arrows move and never change a sign or a number', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5A[down][up][right][left]');
    expect(desk.session.screen().drafts['12']?.rows['2']?.along).toBe('5A');
    await desk.keys('[end][enter]');
    expect(readingOf(desk, '2')?.along_mm).toBe(0.05);
  });

  it('a doubted reading stays as keyed, with the doubt beside it, and what is typed next goes to the next field', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c942B[enter]');
    expect(desk.see()).toContain('Read it again?');
    expect(desk.see()).toContain('? 9.42 BEHIND');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '2', cell: 'across' });
    await desk.keys('0[enter]');
    expect(desk.session.screen().drafts['12']?.rows['2']).toMatchObject({ along: '942B', across: '0' });
  });

  it('doubted readings are gone through once at the end: Enter keeps one, keying puts another in its place', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c942B[enter]0[enter]5A[enter]40G[enter][end][enter]');
    expect(desk.port.submitted.some((one) => one.type === 'check')).toBe(false);
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '2', cell: 'along' });
    expect(desk.see()).toContain('Enter keeps it as keyed');
    await desk.keys('4B[enter]');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '3', cell: 'across' });
    await desk.keys('[enter]');
    expect(desk.session.screen().drafts['12']?.at).toBe('save');
    await desk.keys('[enter]');
    expect(readingOf(desk, '2')).toMatchObject({ along_mm: -0.04, across_mm: 0 });
    expect(readingOf(desk, '3')).toMatchObject({ along_mm: 0.05, across_mm: -0.4 });
  });

  it('typing into a filled field that was come to replaces it, and one Backspace empties it', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5A[enter][left]7B');
    expect(desk.session.screen().drafts['12']?.rows['2']?.along).toBe('7B');
    await desk.keys('[right][left][backspace]');
    expect(desk.session.screen().drafts['12']?.rows['2']?.along).toBe('');
  });

  it('a plate is not taken as clean with a flaw in every fourth label', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c[right][right]c10/40[enter]');
    expect(desk.see()).toContain('Clean, with 10 flaws in 40 labels?');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '2', cell: 'plate' });
    await desk.keys('b[enter]');
    expect(desk.session.screen().drafts['12']?.rows['2']?.plate).toBe('b10/40');
    expect(desk.session.screen().drafts['12']?.at).not.toEqual({ station: '2', cell: 'plate' });
  });

  it('asks on the last line too when the field was left by an arrow', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c40A[right][end][enter]');
    expect(desk.port.submitted.some((one) => one.type === 'check')).toBe(false);
    expect(desk.see()).toContain('Read it again?');
  });

  it('Esc loses nothing: the draft comes back with c', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5A[enter]7G[esc]');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull']);
    await desk.keys('c');
    expect(desk.see()).toContain('0.05 AHEAD');
    expect(desk.see()).toContain('0.07 GEAR SIDE');
  });

  it('drafts survive the program: what was left in a field is there after a start', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5A[enter]');
    const text = desk.port.saved[desk.port.saved.length - 1] ?? '';
    const again = sitDown(desk.port.view(), { drafts: { load: () => text, save: () => undefined } });
    await again.keys('c');
    expect(again.see()).toContain('0.05 AHEAD');
  });

  it('keeps every field when the disk is full, and says so', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c5A[enter]');
    desk.port.breakWith('the disk is full');
    await desk.keys('[end][enter]');
    expect(desk.see()).toContain('NOT SAVED: the disk is full');
    expect(desk.see()).toContain('0.05 AHEAD');
    desk.port.breakWith(null);
    await desk.keys('[enter]');
    expect(readingOf(desk, '2')?.along_mm).toBe(0.05);
  });

  it('asks the counter when none is known', async () => {
    const desk = sitDown(makeReady());
    await desk.keys('c');
    expect(desk.see()).toContain('counter');
    await desk.keys('1 200[enter]');
    expect(desk.port.submitted[0]).toMatchObject({ type: 'pull', web_m: 1200, counter: 'keyed', check: 1 });
    expect(desk.see()).toContain('CHECK 1');
  });

  it('opens the newest of several samples, and says of an older one that it shows an old setting', async () => {
    const desk = sitDown(pulledTwo());
    await desk.keys('c');
    expect(desk.see()).toContain('CHECK 13 off roll 10');
    await desk.keys('[page-up]');
    expect(desk.see()).toContain('CHECK 12 off roll 10');
    expect(desk.see()).toContain('shows the old setting of 4 grey');
    await desk.keys('w[enter]');
    expect(checkOf(desk)).toMatchObject({ check: 12, web_m: 21_300, pulled_at: '2026-11-24T13:12:00.000Z' });
  });

  it('keys the die by the margins between print and cut', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c[end][up]');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: 'D', cell: 'along' });
    expect(desk.see()).toContain('Is the CUT ahead of the print');
    await desk.keys('m3.2[enter]2.8[enter]2[enter]2.1[enter]');
    expect(desk.see()).toContain('0.20 AHEAD');
    await desk.keys('[end][enter]');
    expect(desk.see()).toContain('Read it again?');
    await desk.keys('[end][enter]');
    // (3.2 - 2.8) / 2 and (0.02 - 2.1) / 2: whole digits count hundredths, so 2 is 0.02.
    expect(readingOf(desk, 'D')?.along_mm).toBeCloseTo(0.2, 9);
    expect(readingOf(desk, 'D')?.across_mm).toBeCloseTo(-1.04, 9);
  });

  it('reads a station at both edges of the web', async () => {
    const desk = sitDown(quiet());
    await desk.keys('ce');
    expect(desk.see()).toContain('2 plum operator');
    expect(desk.see()).toContain('2 plum gear');
    await desk.keys('5A[enter]12O[enter]5A[enter]12G[enter]wp[enter]');
    const two = checkOf(desk).readings.filter((one) => one.station === '2');
    expect(two.map((one) => [one.edge, one.along_mm, one.across_mm, one.plate])).toEqual([
      ['operator', 0.05, 0.12, 'clean'],
      ['gear', 0.05, -0.12, null],
    ]);
    expect(checkOf(desk).readings.filter((one) => one.station === '3').length).toBe(1);
    expect(desk.see()).toContain('1 measured');
  });

  it('one edge alone is an ordinary reading, and the second row can be taken away again', async () => {
    const desk = sitDown(quiet());
    await desk.keys('ce5A[enter][end][enter]');
    expect(checkOf(desk).readings.map((one) => [one.station, one.edge])).toEqual([['2', null]]);
    const other = sitDown(quiet());
    await other.keys('ce[down]e5A[enter][end][enter]');
    expect(checkOf(other).readings.map((one) => [one.station, one.along_mm])).toEqual([['2', 0.05]]);
  });

  it('takes plate grades and flaws, and asks how many labels', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c[right][right]b3[enter]');
    expect(desk.see()).toContain('how many labels');
    await desk.keys('/40[enter][end][enter]');
    expect(readingOf(desk, '2')).toMatchObject({ plate: 'building', flaws: 3, labels: 40, along_mm: null });
  });

  it('keeps the alarm in sight while keying', async () => {
    const desk = sitDown(drifting());
    await desk.keys('c');
    expect(desk.see()).toContain('4 grey is drifting ahead');
  });

  it('saves nothing when nothing was keyed', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c[end][enter]');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull']);
    expect(desk.see()).toContain('Nothing is keyed');
  });

  it('nothing offers the same as last time', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c');
    for (const row of Object.values(desk.session.screen().drafts['12']?.rows ?? {}))
      expect(row).toEqual({ along: '', across: '', plate: '', look: null });
  });

  it('takes keys that come faster than the disk', async () => {
    const desk = sitDown(quiet());
    await desk.keys('pc5A[enter][end][enter]x[enter]');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull', 'check', 'stop']);
  });
});

describe('a plate that is not clean', () => {
  /** To the plate field of 5 black, from the first field: two right, three down as the web runs. */
  const TO_BLACK = '[right][right][down][down][down]';

  it('is asked about as soon as it is graded: one letter an answer, in any order', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}`);
    expect(desk.see()).not.toContain('what flaw?');
    await desk.keys('d12/40');
    expect(desk.see()).toContain('5 black, what flaw?  f fill-in  k speck  h halo  i dried ink  v void');
    expect(desk.see()).toContain('e leading edge  t trailing  s same place every repeat  m moves  Enter passes');
    await desk.keys('sef');
    expect(desk.see()).toContain('[f fill-in]');
    expect(desk.see()).toContain('[e leading edge]');
    expect(desk.see()).toContain('[s same place every repeat]');
    await desk.keys('[enter]');
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '6', cell: 'plate' });
    await desk.keys('[end]');
    expect(desk.see()).toContain('Save check 12: plates: 5 black dirty (fill-in, leading, same place)? Enter');
    await desk.keys('[enter]');
    expect(readingOf(desk, '5')).toEqual({
      station: '5',
      along_mm: null,
      across_mm: null,
      look: null,
      edge: null,
      plate: 'dirty',
      flaws: 12,
      labels: 40,
      flaw_kind: 'fill-in',
      flaw_edge: 'leading',
      flaw_comes: 'same place',
    });
  });

  it('costs no key to pass, and nothing of it is then written', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}`);
    const before = desk.count();
    await desk.keys('b[enter]');
    expect(desk.count() - before).toBe(2);
    expect(desk.session.screen().drafts['12']?.at).toEqual({ station: '6', cell: 'plate' });
    expect(desk.see()).not.toContain('what flaw?');
    await desk.keys('[end][enter]');
    expect(readingOf(desk, '5')).toMatchObject({ plate: 'building' });
    expect(readingOf(desk, '5')).not.toHaveProperty('flaw_kind');
  });

  it('a clean one is never asked about, and its letters are then no keys', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}c0/40`);
    expect(desk.see()).not.toContain('what flaw?');
    await desk.keys('k');
    expect(desk.see()).toContain('Plate: c clean, b building, d dirty; flaws as 3/40.');
    expect(desk.session.screen().drafts['12']?.rows['5']).toMatchObject({ plate: 'c0/40' });
    await desk.keys('[end]f');
    expect(desk.see()).toContain('no plate is graded building or dirty');
  });

  it('never blocks saving: w and Enter save it, and f on the last line goes to what is asked', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}dw`);
    expect(desk.see()).toContain('Enter saves. f goes to the plate of 5 black: what flaw?');
    await desk.keys('fi[end][enter]');
    expect(readingOf(desk, '5')).toMatchObject({ plate: 'dirty', flaw_kind: 'dried ink' });
    const other = sitDown(quiet());
    await other.keys(`c${TO_BLACK}dw[enter]`);
    expect(readingOf(other, '5')).toMatchObject({ plate: 'dirty' });
  });

  it('the same key again takes an answer back, another of its sort replaces it, any other key is said and changes nothing', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}dfeft`);
    const flaw = { kind: null, edge: 'trailing', comes: null };
    expect(desk.session.screen().drafts['12']?.rows['5']?.flaw).toEqual(flaw);
    await desk.keys('q');
    expect(desk.see()).toContain('Plate: c clean, b building, d dirty');
    expect(desk.see()).toContain('[t trailing]');
    expect(desk.session.screen().drafts['12']?.rows['5']).toMatchObject({ plate: 'd', flaw });
  });

  it('graded clean after all, what was said of the flaw is not written', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}dfc[end][enter]`);
    expect(readingOf(desk, '5')).toMatchObject({ plate: 'clean' });
    expect(readingOf(desk, '5')).not.toHaveProperty('flaw_kind');
  });

  it('half answered it survives the program', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}dfe`);
    const text = desk.port.saved[desk.port.saved.length - 1] ?? '';
    const again = sitDown(desk.port.view(), { drafts: { load: () => text, save: () => undefined } });
    await again.keys('c');
    expect(again.see()).toContain('[f fill-in]');
    await again.keys('[enter][end][enter]');
    expect(readingOf(again, '5')).toMatchObject({ plate: 'dirty', flaw_kind: 'fill-in', flaw_edge: 'leading' });
  });

  it('a narrow field shows whole words and numbers only', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c${TO_BLACK}d9/40`);
    expect(desk.see()).toMatch(/d9\/40\S dirty$/m);
    await desk.keys('[backspace][backspace][backspace][backspace]b12/40f[enter]');
    expect(desk.see()).toMatch(/5 black +building 12\/40$/m);
    expect(desk.see(120, 40)).toContain('building, 12 in 40, fill-in');
  });
});

describe('samples that wait', () => {
  it('c opens the newest; page up goes to an older one', async () => {
    const desk = sitDown(pulledTwo());
    await desk.keys('c');
    expect(desk.see()).toContain('CHECK 13');
    await desk.keys('[page-up]');
    expect(desk.see()).toContain('CHECK 12');
    await desk.keys('[page-down]5A[esc]');
    expect(desk.session.screen().drafts['13']?.rows['2']?.along).toBe('5A');
  });

  it('one pulled by mistake is thrown away by saving it empty, on the second Enter', async () => {
    const desk = sitDown(pulledTwo());
    await desk.keys('c[end][enter]');
    expect(desk.port.submitted).toEqual([]);
    expect(desk.see()).toContain('not read, sample thrown away');
    await desk.keys('[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'withdraw', check: 13, entry: null }]);
    expect(desk.see()).toContain('Sample 13 thrown away, not read.');
  });

  it('z lists it', async () => {
    const desk = sitDown(pulledTwo());
    await desk.keys('z');
    await desk.keys('[up][up]');
    expect(desk.see()).toContain('Sample 13, pulled at 21 420 m: not read, thrown away');
    await desk.keys('[enter]');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['withdraw']);
  });
});
