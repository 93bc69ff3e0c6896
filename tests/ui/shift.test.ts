import { describe, expect, it } from 'vitest';
import type { SignSheet } from '../../src/core/views/sign-sheet.js';
import { sitDown } from './desk.js';
import { drifting, quiet } from './fixtures.js';

const SHEET: SignSheet = {
  questions: [
    { about: 'Safety and maintenance', ask: 'Guards, stops, work begun and not finished?' },
    { about: 'Watch first', ask: 'What should the next operator watch first?' },
  ],
  points: ['No movement is open.', 'No product is on hold.'],
  reread: { station: '4', label: '4 grey', why: 'closest to its limit when last read' },
};

const desk = () => sitDown(quiet(), { signSheet: () => SHEET });

describe('shift change on the board', () => {
  it('asks what the terminal asks, and keeps all of it as records', async () => {
    const at = desk();
    await at.keys('t');
    for (const words of ['Safety and maintenance', 'Watch first', 'read back: No movement', '4 grey read again'])
      expect(at.see()).toContain(words);
    await at.keys('Bert[tab]guard 3 sticks[tab][tab][right][tab][tab]2A[tab]1G[enter]');
    expect(at.port.submitted.map(({ type }) => type)).toEqual(['note', 'shift', 'check']);
    expect(at.port.submitted[0]).toMatchObject({ text: 'Safety and maintenance: guard 3 sticks' });
    // What was signed is what was read back: the re-reading is judged after it.
    expect(at.port.submitted[2]).toMatchObject({ readings: [{ station: '4', along_mm: 0.02, across_mm: -0.01 }] });
    expect(at.port.submitted[1]).toMatchObject({
      outgoing: 'Anna',
      incoming: 'Bert',
      note: expect.stringContaining('Read back 1 of 2 points; NOT read back: No product is on hold'),
    });
    expect(at.port.operator()).toBe('Bert');
  });

  it('a shift can end with nobody taking over; who had the run is still there', async () => {
    const at = desk();
    await at.keys('t');
    expect(at.see()).toContain('hands over to nobody?');
    await at.keys('[enter]');
    expect(at.port.submitted).toEqual([expect.objectContaining({ type: 'shift', outgoing: 'Anna', incoming: null })]);
    expect(at.port.operator()).toBe('Anna');
  });

  it('refuses the same person on both sides, and a re-reading without a side; nothing is written', async () => {
    const at = desk();
    await at.keys('tanna[enter]');
    expect(at.see().replace(/\s+/g, ' ')).toContain('stands on both sides');
    await at.keys('[esc]tBert[tab][tab][tab][tab][tab]5[enter]');
    expect(at.see().replace(/\s+/g, ' ')).toMatch(/4 grey along: .*which side/);
    expect(at.port.submitted).toEqual([]);
  });

  it('fits a small terminal', async () => {
    const at = desk();
    await at.keys('t');
    for (const line of at.see(60, 20).split('\n')) expect(line.length).toBeLessThanOrEqual(60);
    expect(at.see(60, 20).split('\n').length).toBeLessThanOrEqual(20);
  });
});

describe('the shift change at 80 by 24', () => {
  it('has the field with the cursor in sight, whichever it is, and no word is broken', async () => {
    const points = [
      'Roll 8 and roll 9 are on hold from counter 18 070 m to 21 450 m because 4 grey was out along.',
      'The plate of 3 leaf is dirty and has not been washed since the last roll change of the shift.',
      'Next check when the roll comes off at about counter 22 070 m, and 2 plum is to be read first.',
      'The knob of 5 black along gives about half of what its marks say, so turn twice and read again.',
    ];
    const questions = ['to watch', 'what was tried', 'stock and ink', 'people', 'to pass on'].map((about) => ({
      about,
      ask: about,
    }));
    const desk = sitDown(drifting(), {
      signSheet: () => ({ questions, points, reread: { station: '4', label: '4 grey', why: 'it moved' } }),
    });
    await desk.keys('t');
    const words = new Set(points.join(' ').split(/\s+/));
    for (let i = 0; i < 15; i += 1) {
      const { mode } = desk.session.screen();
      if (mode.kind !== 'form') throw new Error('no form');
      const label = mode.form.fields[mode.form.at]?.label ?? '';
      expect(desk.see().replace(/\s+/g, ' ')).toContain(label.slice(0, 30).trim());
      for (const line of desk.see().split('\n')) expect(line.length).toBeLessThanOrEqual(80);
      const said = /read back: (.*?)( …| {2}no| {2}yes|$)/m.exec(desk.see())?.[1] ?? '';
      for (const word of said
        .trim()
        .split(/\s+/)
        .filter((one) => one !== ''))
        expect(words).toContain(word);
      await desk.keys('[tab]');
    }
  });
});
