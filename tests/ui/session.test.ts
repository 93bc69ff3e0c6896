import { describe, expect, it } from 'vitest';
import { FAR_AFTER_MS } from '../../src/ui/screen.js';
import { sitDown } from './desk.js';
import { drifting, quiet } from './fixtures.js';

describe('the board without a terminal', () => {
  it('a fault behind one key is said, and the next key works', async () => {
    const desk = sitDown(quiet(), {
      handover: () => {
        throw new Error('no such thing');
      },
    });
    await desk.keys('h');
    expect(desk.see()).toContain('A fault in the program: no such thing');
    await desk.keys('k');
    expect(desk.see()).toContain('2 plum');
  });

  it('a submit that fails outright is told like any other trouble', async () => {
    const desk = sitDown(quiet(), { submit: () => Promise.reject(new Error('the disk went away')) });
    await desk.keys('p');
    expect(desk.see()).toContain('NOT SAVED: A fault in the program: the disk went away');
    await desk.keys('a');
    expect(desk.see()).toContain('2 plum, across');
  });

  it('a disk that never answers does not hold the operator: Ctrl-C twice leaves', () => {
    const desk = sitDown(quiet(), { submit: () => new Promise(() => undefined) });
    desk.session.key({ char: 'p' });
    desk.session.key({ name: 'ctrl-c' });
    expect(desk.port.left).toEqual([]);
    desk.session.key({ name: 'ctrl-c' });
    expect(desk.port.left).toEqual([130]);
  });

  it('a minute without a key brings the far view, and any key takes it away', async () => {
    const desk = sitDown(drifting());
    desk.port.advance(FAR_AFTER_MS - 1);
    desk.session.tick();
    expect(desk.session.screen().mode.kind).toBe('board');
    desk.port.advance(1);
    desk.session.tick();
    expect(desk.session.screen().mode).toEqual({ kind: 'far', byItself: true });
    await desk.keys('j');
    expect(desk.session.screen().mode.kind).toBe('board');
  });

  it('a key pressed on the far view does at once what it does on the board', async () => {
    const desk = sitDown(quiet());
    await desk.keys('fp');
    expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull']);
    await desk.keys('ff');
    expect(desk.session.screen().mode.kind).toBe('board');
  });

  it('the far view never covers what is being keyed', async () => {
    for (const keys of ['c5A', 'k', 'h']) {
      const desk = sitDown(quiet());
      await desk.keys(keys);
      const { kind } = desk.session.screen().mode;
      desk.port.advance(10 * FAR_AFTER_MS);
      desk.session.tick();
      expect(desk.session.screen().mode.kind).toBe(kind);
    }
  });

  it('drafts that cannot be read do not keep the board from opening', async () => {
    for (const text of ['', '{', '[]', '{"12":5}', '{"12":{"rows":{}}}', 'null']) {
      const desk = sitDown(quiet(), { drafts: { load: () => text, save: () => undefined } });
      await desk.keys('cw[enter]');
      expect(desk.port.submitted.map((one) => one.type)).toEqual(['pull', 'check']);
    }
  });

  it('selects stations by arrows and by place, and stays within the press', async () => {
    const desk = sitDown(quiet());
    await desk.keys('[left][left][left][left]');
    expect(desk.see()).toContain('1 opaque white, along');
    await desk.keys('7');
    expect(desk.see()).toContain('die, along');
    await desk.keys('[right]9a');
    expect(desk.see()).toContain('die, across');
  });

  it('the bell is muted and heard again by one key', async () => {
    const desk = sitDown(quiet());
    await desk.keys('m');
    expect(desk.session.screen().muted).toBe(true);
    expect(desk.see()).toContain('Bell off.');
    await desk.keys('m');
    expect(desk.session.screen().muted).toBe(false);
  });
});
