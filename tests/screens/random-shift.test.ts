import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { readSetup } from '../../src/commands/read-setup.js';
import { RULES } from '../../src/core/run/begin.js';
import { openRun } from '../../src/runtime.js';
import { createRun } from '../../src/store/run-folder.js';
import { widthOf } from '../../src/ui/draw/row.js';
import { drawFrame } from '../../src/ui/frame.js';
import type { BoardPort } from '../../src/ui/port.js';
import { createSession } from '../../src/ui/session.js';
import { seeded } from '../support/seeded.js';
import { strokesOf } from '../ui/desk.js';
import { look, modelOf } from '../ui/frame-of.js';

/** Keys at random on the real runtime, its log on a real disk: what the board was told is saved must be there when the run is opened again. */
const DATA = fileURLToPath(new URL('../../demo-data/', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'holdreg-random-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What operators do, and what cats do. The end of the run is left for the end. */
const PHRASES = [
  'p',
  'c',
  'cw[enter]',
  'c5A[enter]3G[enter][end][enter]',
  'c16B[enter][enter][end][enter]',
  'k[enter]',
  'k2[enter]',
  'r[enter]',
  'x[enter]',
  'w[enter]',
  's',
  'v[enter]',
  'u[enter]',
  'z[enter]',
  'b[enter]',
  'nx[enter]',
  'tB[enter]',
  'oP[enter]',
  'h[esc]',
  '?[esc]',
  'f',
  'i[esc]',
  '[esc]',
  '[enter]',
];
const LOOSE = 'pckruxowsvbntz123456789a0+-[]gihfm?qlxdABOG.,/ ';

describe('random keys on a real run', () => {
  it.each([21, 22])('seed %i: what was saved is there after a restart, to the letter', async (seed) => {
    const setup = readSetup(join(DATA, 'press.json'), join(DATA, 'job.json'));
    if (!setup.ok) throw new Error(setup.problem.message);
    const run = createRun(folder, `walk-${seed}`);
    if (!run.ok) throw new Error(run.problem.message);
    let now_ms = Date.parse('2026-03-02T05:40:00.000Z');
    const opened = await openRun(run.value, {
      now: () => now_ms,
      operator: 'MK',
      first: { type: 'begin', run: `walk-${seed}`, ...setup.value, rules: RULES, program: 'test', time_zone: 'UTC' },
    });
    if (!opened.ok) throw new Error(opened.problem.message);
    const runtime = opened.value;
    const random = seeded(seed).uniform;
    const pick = <T>(list: ArrayLike<T>): T => list[Math.floor(random() * list.length)] as T;
    let accepted = 0;
    const port: BoardPort = {
      view: runtime.board,
      subscribe: runtime.subscribe,
      chart: runtime.chart,
      submit: async (body) => {
        const result = await runtime.submit(body);
        if (result.ok) accepted += 1;
        return result;
      },
      doubt: runtime.doubt,
      handover: () => 'handover',
      readOnly: null,
      operator: runtime.operator,
      setOperator: runtime.setOperator,
      now: runtime.now,
      quit: () => undefined,
    };
    const session = createSession(port, {
      look,
      mute: true,
      pageRows: 20,
      quit: () => undefined,
      idleClock: () => now_ms,
    });
    const type = async (words: string): Promise<void> => {
      for (const stroke of strokesOf(words)) {
        session.key(stroke);
        await session.settled();
      }
    };
    // A run in full swing: counter, full check, OK to run at a known speed.
    await type(
      'v1000[tab]120[enter]c1A[enter]2G[enter]3A[enter]0[enter]1B[enter]2O[enter]0[enter]0[enter]i[enter]10A[enter]20G[enter]p[enter]oPaul[enter]',
    );
    expect(runtime.board().phase).toBe('running');
    for (let i = 0; i < 700; i += 1) {
      now_ms += Math.floor(random() * 90_000);
      await type(random() < 0.6 ? pick(PHRASES) : pick(LOOSE));
      const frame = drawFrame(modelOf(runtime.board(), 80, 24, { screen: session.screen(), chart: runtime.chart }));
      if (frame.length !== 24 || frame.some((line) => widthOf(line) > 80)) expect.fail(`litter after ${i} turns`);
    }
    await session.settled();
    expect(accepted).toBeGreaterThan(80);
    const before = runtime.state();
    const view = runtime.board();
    await runtime.close();
    const again = await openRun(run.value, { now: () => now_ms, operator: 'MK' });
    if (!again.ok) throw new Error(again.problem.message);
    expect(again.value.state().seq).toBe(before.seq);
    expect(before.seq).toBe(accepted + 1);
    expect(again.value.board()).toEqual(view);
    await again.value.close();
  });
});
