import './before-react.js';
import { render } from 'ink-testing-library';
import { createElement } from 'react';
import { expect, it } from 'vitest';
import { App } from '../../src/ui/app.js';
import { createSession } from '../../src/ui/session.js';
import { fakePort } from './fake-port.js';
import { chart, drifting } from './fixtures.js';
import { look } from './frame-of.js';

/** A board with a fault that is put into the drawing of its chart, or into the words of a row, and taken out again. */
const boardWithFault = () => {
  let fault: 'chart' | 'paint' | null = null;
  const aside: string[] = [];
  const port = fakePort(drifting(), {
    chart: (...asked) => {
      if (fault === 'chart') throw new Error('no such axis');
      return chart(...asked);
    },
    drafts: {
      load: () => null,
      save: () => undefined,
      setAside: () => {
        aside.push('aside');
        return 'drafts.json.aside-1';
      },
    },
  });
  const session = createSession(port, { look, mute: true, pageRows: 20, quit: (code) => port.quit(code) });
  const shown = render(createElement(App, { port, session, look, size: { columns: 100, rows: 30 } }));
  const frame = (): string => (shown.lastFrame() ?? '').replaceAll(/\u001B\[[0-9;]*m/g, '');
  const until = async (wanted: string): Promise<string> => {
    for (let i = 0; i < 600; i += 1) {
      if (frame().replace(/\s+/g, ' ').includes(wanted)) return frame();
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    throw new Error(`never saw "${wanted}" in\n${frame()}`);
  };
  const put = (what: typeof fault): void => {
    fault = what;
    const view = drifting();
    port.set(what === 'paint' ? { ...view, job: 7 as unknown as string } : { ...view });
  };
  return { port, session, aside, until, put, type: (text: string) => shown.stdin.write(text), end: shown.unmount };
};

it.each(['chart', 'paint'] as const)(
  'a fault while drawing (%s) leaves the board: said, half-keyed things set aside, and q leaves',
  async (what) => {
    const board = boardWithFault();
    await board.until('RETARD 4 grey');
    board.type('c5A\r');
    await board.until('0.05 AHEAD');
    board.type('\u001B');
    await board.until('RETARD 4 grey');
    board.put(what);
    const said = (await board.until('The log is sound; q and Enter leave.')).replace(/\s+/g, ' ');
    expect(said).toContain('A fault while drawing');
    expect(said).toContain('it was set aside as drafts.json.aside-1');
    expect(board.aside.length).toBeGreaterThan(0);
    board.put(null);
    await board.until('RETARD 4 grey');
    board.type('n');
    await board.until('Put this note');
    board.type('\u001B');
    await board.until('RETARD 4 grey');
    board.put(what);
    await board.until('q and Enter leave.');
    board.type('q');
    await new Promise((resolve) => setTimeout(resolve, 50));
    board.type('\r');
    for (let i = 0; i < 200 && board.port.left.length === 0; i += 1)
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect(board.port.left).toEqual([0]);
    board.end();
  },
);
