import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { seeded } from '../support/seeded.js';
import { type KeyName, TestTerminal } from '../support/terminal.js';
import { drifting, ended, out, quiet, referenceMoved, sensorLost, webMoved } from '../ui/fixtures.js';
import { frameText } from '../ui/frame-of.js';

/** The board in a real pseudo-terminal, seen through a terminal emulator. */
const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const open: TestTerminal[] = [];

function board(args: readonly string[], columns = 80, rows = 24): TestTerminal {
  const terminal = new TestTerminal({
    command: process.execPath,
    args: ['--import', 'tsx', 'tests/ui/look-at-board.ts', ...args],
    cwd: ROOT,
    columns,
    rows,
  });
  open.push(terminal);
  return terminal;
}

afterEach(async () => {
  for (const one of open.splice(0)) await one.close();
});

/** The header carries a clock that goes on; everything else must be the same to the letter. */
const body = (screen: string): readonly string[] => screen.split('\n').slice(1);

describe('the board on a terminal', () => {
  it.each([
    ['quiet', quiet],
    ['drifting', drifting],
    ['reference', referenceMoved],
    ['web', webMoved],
    ['out', out],
    ['sensor', sensorLost],
    ['ended', ended],
  ] as const)(
    '%s: the screen is what was drawn, at 80 by 24 and, resized, at 120 by 40; nothing scrolls',
    async (name, view) => {
      const terminal = board([name, '--no-color']);
      await terminal.waitFor('plum jam lid');
      const small = body(frameText(view(), 80, 24));
      await terminal.waitFor((screen) => body(screen).join('\n') === small.join('\n'));
      expect(terminal.alternate()).toBe(true);
      terminal.resize(120, 40);
      const large = body(frameText(view(), 120, 40));
      await terminal.waitFor((screen) => body(screen).join('\n') === large.join('\n'));
      expect(terminal.scrolledRows()).toBe(0);
    },
  );

  it('leaves the terminal as it found it, after q and after an ending signal', async () => {
    for (const leave of [
      (terminal: TestTerminal) => {
        terminal.type('q');
        terminal.press('enter');
      },
      (terminal: TestTerminal) => terminal.kill('SIGTERM'),
    ]) {
      const terminal = board(['quiet']);
      await terminal.waitFor('All holding');
      leave(terminal);
      expect((await terminal.exited).code).toBe(0);
      expect(terminal.alternate()).toBe(false);
      // The cursor is shown again.
      expect(terminal.raw.lastIndexOf('\u001B[?25h')).toBeGreaterThan(terminal.raw.lastIndexOf('\u001B[?25l'));
    }
  });

  it('a check as fast as keys can come, through the real input', async () => {
    const terminal = board(['quiet', '--no-color']);
    await terminal.waitFor('All holding');
    terminal.type('c5A\r12G\r0\r');
    const screen = await terminal.waitFor('0.12 GEAR SIDE');
    expect(screen).toContain('0.05 AHEAD');
    terminal.press('esc');
    await terminal.waitFor('kept half-keyed');
    terminal.type('c');
    await terminal.waitFor('0.05 AHEAD');
    terminal.type('lp\r');
    await terminal.waitFor('Check 12 saved');
  });

  it('after the first frame the screen is never cleared whole, whatever is keyed', async () => {
    const terminal = board(['drifting', '--no-color']);
    await terminal.waitFor('RETARD 4 grey');
    const start = terminal.raw.length;
    for (const [keys, seen] of [
      ['?', 'SIGNS AND UNITS'],
      [' ', 'lines'],
      ['b', 'RETARD'],
      ['f', 'any key'],
      ['a', '4 grey, across'],
      ['k', 'RETARDED'],
    ] as const) {
      terminal.type(keys);
      if (keys !== '?') await terminal.waitFor(seen);
      else await terminal.waitFor('KEYS ON THE BOARD');
    }
    expect(terminal.raw.slice(start)).not.toMatch(/\u001B\[[23]J/);
    expect(terminal.scrolledRows()).toBe(0);
  });

  it('a storm of resizes and keys leaves no litter', async () => {
    const random = seeded(5).uniform;
    const terminal = board(['out', '--no-color', '--mute']);
    await terminal.waitFor('RETARD 4 grey');
    const keys: readonly KeyName[] = ['left', 'right', 'up', 'down', 'tab', 'esc'];
    for (let i = 0; i < 60; i += 1) {
      terminal.resize(20 + Math.floor(random() * 180), 5 + Math.floor(random() * 55));
      terminal.press(keys[Math.floor(random() * keys.length)] ?? 'esc');
      if (i % 10 === 9) await new Promise((resolve) => setTimeout(resolve, 60));
    }
    terminal.press('esc');
    terminal.resize(80, 24);
    await terminal.waitFor((screen) => screen.startsWith('plum jam lid') && screen.includes('? help'));
    terminal.type('?');
    await terminal.waitFor('KEYS ON THE BOARD');
    terminal.press('esc');
    await terminal.waitFor((screen) => screen.includes('RETARD 4 grey 4') && !screen.includes('KEYS ON THE BOARD'));
    const lines = terminal.screen().split('\n');
    const wanted = frameText(out(), 80, 24).split('\n');
    expect(lines.length).toBe(24);
    expect(lines.slice(14, 19)).toEqual(wanted.slice(14, 19));
    expect(lines.slice(2, 14).map((one) => one.replace(/\s+/g, ' '))).toEqual(
      wanted.slice(2, 14).map((one) => one.replace(/\s+/g, ' ')),
    );
  });

  it('below 80 by 24 the instruction still stands', async () => {
    const terminal = board(['out', '--no-color'], 50, 12);
    await terminal.waitFor('50 by 12');
    expect(terminal.screen()).toContain('RETARD 4 grey 4 divisions');
  });

  it('in ASCII only, every byte after the start is ASCII', async () => {
    const terminal = board(['drifting', '--ascii', '--no-color']);
    const screen = await terminal.waitFor('RETARD 4 grey');
    expect(screen).toMatch(/^[\x20-\x7E\n]*$/);
  });

  it('rings for what is out, and not when muted', async () => {
    const loud = board(['out']);
    await loud.waitFor('RETARD 4 grey');
    await loud.waitFor(() => loud.raw.includes('\u0007'));
    const silent = board(['out', '--mute']);
    await silent.waitFor('RETARD 4 grey');
    silent.type('f');
    await silent.waitFor('any key');
    expect(silent.raw).not.toContain('\u0007');
  });
});
