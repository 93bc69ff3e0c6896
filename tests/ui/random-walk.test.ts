import { describe, expect, it } from 'vitest';
import { widthOf } from '../../src/ui/draw/row.js';
import { drawFrame } from '../../src/ui/frame.js';
import type { Keystroke } from '../../src/ui/keystroke.js';
import { seeded } from '../support/seeded.js';
import { sitDown } from './desk.js';
import { drifting, makeReady, out, pulledTwo, quiet, referenceMoved, webMoved } from './fixtures.js';
import { ascii, look, modelOf } from './frame-of.js';

const KEYS: readonly Keystroke[] = [
  ...[...'pckruxowsvbntze1234567890a+=-[]gihfm?qlxdABOG.,/ '].map((char) => ({ char })),
  ...(
    [
      'enter',
      'enter',
      'enter',
      'tab',
      'back-tab',
      'esc',
      'backspace',
      'up',
      'down',
      'left',
      'right',
      'home',
      'end',
      'page-up',
      'page-down',
      'ctrl-c',
    ] as const
  ).map((name) => ({ name })),
  // What comes from a stuck or foreign keyboard.
  { char: 'é' },
  { char: '漢' },
  { char: '\u0301' },
];

const SIZES = [
  [80, 24],
  [120, 40],
  [200, 60],
  [81, 25],
  [79, 24],
  [40, 10],
  [1, 1],
] as const;

describe('20,000 keys at random', () => {
  it.each([11, 12, 13, 14, 15])(
    'seed %i: no crash, no lost record, every frame exactly the size of the terminal',
    async (seed) => {
      const random = seeded(seed).uniform;
      const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
      const views = [quiet, drifting, out, referenceMoved, webMoved, pulledTwo, makeReady];
      const start = pulledTwo();
      const desk = sitDown(start);
      const { port, session } = desk;
      const modes = new Set<string>();
      for (let i = 0; i < 4000; i += 1) {
        if (i % 97 === 0) port.breakWith(random() < 0.2 ? 'the disk is full' : null);
        if (i % 301 === 0) {
          const { pulled, next_check_id, checks_made } = port.view();
          port.set({ ...pick(views)(), pulled, next_check_id, checks_made });
        }
        if (port.view().phase === 'ended') port.set({ ...port.view(), phase: 'running' });
        port.advance(Math.floor(random() * 3000));
        session.key(pick(KEYS));
        if (random() < 0.7) await session.settled();
        session.tick();
        modes.add(session.screen().mode.kind);
        const [columns, rows] = pick(SIZES);
        const frame = drawFrame(
          modelOf(port.view(), columns, rows, {
            screen: session.screen(),
            nowMs: port.now(),
            look: random() < 0.3 ? ascii : look,
          }),
        );
        if (frame.length !== rows || frame.some((line) => widthOf(line) > columns)) {
          expect.fail(
            `key ${i}: a frame of ${frame.length} rows, ${Math.max(...frame.map(widthOf))} columns on ${columns} by ${rows}`,
          );
        }
      }
      await session.settled();
      expect([...modes].sort()).toEqual(['board', 'far', 'form', 'grid', 'page']);
      const count = (type: string): number => port.submitted.filter((one) => one.type === type).length;
      // Every sample pulled is either keyed or still waiting; nothing was keyed twice.
      expect(start.pulled.length + count('pull')).toBe(count('check') + port.view().pulled.length);
      expect(new Set(port.submitted.flatMap((one) => (one.type === 'check' ? [one.check] : []))).size).toBe(
        count('check'),
      );
    },
  );
});
