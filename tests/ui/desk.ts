import type { BoardView } from '../../src/core/views/board-view.js';
import { type Keystroke, keystrokes } from '../../src/ui/keystroke.js';
import type { BoardPort } from '../../src/ui/port.js';
import { createSession, type Session } from '../../src/ui/session.js';
import { type FakePort, fakePort } from './fake-port.js';
import { frameText, look } from './frame-of.js';

/** An operator at the board, without a terminal: says keys as one says them, sees the screen as text. */
export type Desk = {
  readonly port: FakePort;
  readonly session: Session;
  /** Keys in words: single characters, or [enter] [esc] [tab] [left] and so on. Counts them. */
  readonly keys: (words: string) => Promise<void>;
  readonly see: (columns?: number, rows?: number) => string;
  readonly count: () => number;
};

export const sitDown = (view: BoardView, over: Partial<BoardPort> = {}): Desk => sitDownAt(fakePort(view, over));

/** At a run in memory, or on a hand-made view. */
export function sitDownAt(port: FakePort): Desk {
  const session = createSession(port, { look, mute: false, pageRows: 20, quit: (code) => port.quit(code) });
  let pressed = 0;
  return {
    port,
    session,
    keys: async (words) => {
      for (const stroke of strokesOf(words)) {
        pressed += 1;
        session.key(stroke);
      }
      await session.settled();
    },
    see: (columns = 80, rows = 24) =>
      frameText(port.view(), columns, rows, {
        screen: session.screen(),
        chart: port.chart,
        clock: new Date(port.now()).toISOString().slice(11, 16),
        nowMs: port.now(),
        operator: port.operator(),
        readOnly: port.readOnly,
      }),
    count: () => pressed,
  };
}

export function strokesOf(words: string): readonly Keystroke[] {
  return (words.match(/\[[a-z-]+\]|./gs) ?? []).flatMap((one) => {
    const named = /^\[([a-z-]+)\]$/.exec(one)?.[1];
    return named === undefined ? keystrokes(one, {}) : [{ name: named } as Keystroke];
  });
}
