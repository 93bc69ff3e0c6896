import './before-react.js';
import { render } from 'ink-testing-library';
import { createElement } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import type { BoardView } from '../../src/core/views/board-view.js';
import { App, clockWords } from '../../src/ui/app.js';
import { createSession } from '../../src/ui/session.js';
import { type FakePort, fakePort } from './fake-port.js';
import { drifting, out, quiet } from './fixtures.js';
import { look } from './frame-of.js';

type Shown = {
  readonly port: FakePort;
  readonly type: (text: string) => void;
  readonly until: (wanted: string) => Promise<string>;
  readonly frame: () => string;
  readonly unmount: () => void;
};

const open: Shown[] = [];
afterEach(() => {
  for (const one of open.splice(0)) one.unmount();
});

function show(view: BoardView, columns = 100, rows = 30): Shown {
  const port = fakePort(view);
  const session = createSession(port, { look, mute: true, pageRows: rows - 4, quit: (code) => port.quit(code) });
  const shown = render(createElement(App, { port, session, look, size: { columns, rows } }));
  // As read, without bold and colours.
  const frame = (): string => (shown.lastFrame() ?? '').replaceAll(/\u001B\[[0-9;]*m/g, '');
  const until = async (wanted: string): Promise<string> => {
    for (let i = 0; i < 400; i += 1) {
      if (frame().includes(wanted)) return frame();
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    throw new Error(`never saw "${wanted}" in\n${frame()}`);
  };
  const one: Shown = { port, type: (text) => shown.stdin.write(text), until, frame, unmount: shown.unmount };
  open.push(one);
  return one;
}

describe('the board in the terminal library', () => {
  it('shows the strip, the instruction, the chart and the keys', async () => {
    const board = show(drifting());
    const text = await board.until('RETARD 4 grey');
    for (const part of ['plum jam lid', '2 plum', 'drifting', '4 grey, along', '? help']) expect(text).toContain(part);
  });

  it('draws again when the view changes, without a key', async () => {
    const board = show(quiet());
    await board.until('All holding');
    board.port.set(out());
    await board.until('OUT.');
  });

  it('walks the characters of a scanner or a paste, Enter among them', async () => {
    const board = show(quiet());
    await board.until('All holding');
    board.type('c');
    await board.until('CHECK 12');
    board.type('5A\r12G\r');
    const text = await board.until('0.12 GEAR SIDE');
    expect(text).toContain('0.05 AHEAD');
  });

  it('knows arrows, backspace and delete as terminals send them', async () => {
    const board = show(quiet());
    await board.until('2 plum, along');
    board.type('\u001B[C');
    await board.until('3 leaf, along');
    board.type('\u001B[B');
    await board.until('3 leaf, across');
    board.type('c');
    await board.until('CHECK 12');
    board.type('57');
    await board.until('0.57');
    board.type('\u007F');
    await board.until('0.05, A or B?');
  });

  it('Ctrl-C asks first, and leaves at once the second time', async () => {
    const board = show(quiet());
    await board.until('All holding');
    board.type('\u0003');
    await board.until('Leave the board?');
    board.type('\u0003');
    for (let i = 0; i < 100 && board.port.left.length === 0; i += 1)
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect(board.port.left).toEqual([130]);
  });

  it('pages the handover and the help', async () => {
    const board = show(quiet());
    await board.until('All holding');
    board.type('h');
    await board.until('line 2 of the handover');
    board.type(' ');
    await board.until('line 30 of the handover');
    board.type('x');
    await board.until('All holding');
    board.type('?');
    await board.until('A CHECK, FROM THE WEB TO THE LOG');
  });
});

describe('the clock in the corner', () => {
  it('is of 24 hours, with the date in the first minutes of a day', () => {
    const at = (hours: number, minutes: number): number => new Date(2026, 10, 24, hours, minutes).getTime();
    expect(clockWords(at(13, 5))).toBe('13:05');
    expect(clockWords(at(0, 2))).toBe('2026-11-24 00:02');
    expect(clockWords(at(0, 5))).toBe('00:05');
  });
});
