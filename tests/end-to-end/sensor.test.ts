import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { TestTerminal } from '../support/terminal.js';
import { logOf, onScreen, ROOT, runningPress } from './program.js';

const PROFILE = join(ROOT, 'devices/line-delimited.json');
type Port = { readonly path: string; readonly write: (text: string) => void; readonly unplug: () => void };

const openPort = async (): Promise<Port> => {
  const holder: ChildProcess = spawn(process.execPath, [join(ROOT, 'tests/end-to-end/port-holder.mjs')], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  if (holder.stdout === null) throw new Error('no pipe');
  const [said] = (await once(holder.stdout, 'data')) as [Buffer];
  return {
    path: said.toString().trim(),
    write: (text) => holder.stdin?.write(text),
    unplug: () => holder.kill('SIGKILL'),
  };
};

const open: { ports: Port[]; boards: TestTerminal[] } = { ports: [], boards: [] };

afterEach(async () => {
  for (const board of open.boards.splice(0)) {
    board.kill();
    await board.exited;
  }
  for (const port of open.ports.splice(0)) port.unplug();
});

/** A sensor that reads stations 2 and 3 of every repeat, 3 by `along` off. */
const feed = (port: Port, repeats: number, along: number): void => {
  for (let i = 0; i < repeats; i++) {
    const tremble = ((i % 5) - 2) * 0.004;
    port.write(`2,${(0.01 + tremble).toFixed(3)},0.000,80\r\n3,${(along - tremble).toFixed(3)},0.010,75\r\n`);
  }
};

describe('a serial sensor on a run, over a real pseudo-terminal', () => {
  it('its repeats become checks on the board and in the log; unplugging is said and loses nothing', async () => {
    const port = await openPort();
    open.ports.push(port);
    const data = runningPress();
    const board = onScreen(data, '--by', 'MK', '--sensor', port.path, '--profile', PROFILE);
    open.boards.push(board);
    await board.waitFor(/sensor reading|plain comma lines/i);
    port.write('# here\r\n');
    feed(port, 60, 0.06);
    await board.waitFor('+0.06');
    const first = logOf(data).filter((r) => r.type === 'check' && r.source === 'sensor');
    expect(first[0]).toMatchObject({ by: 'sensor', place: null });
    const third = first[0]?.type === 'check' ? first[0].readings.find((r) => r.station === '3') : undefined;
    expect(third?.along_mm).toBeCloseTo(0.06, 2);
    expect(third?.n).toBeGreaterThanOrEqual(40);

    feed(port, 20, 0.07);
    await new Promise((resolve) => setTimeout(resolve, 300));
    port.unplug();
    await board.waitFor(/SENSOR LOST/);
    const lost = logOf(data).find((r) => r.type === 'sensor' && r.state === 'lost');
    expect(lost).toBeDefined();
    const kept = logOf(data).flatMap((r) =>
      r.type === 'check' && r.source === 'sensor'
        ? r.readings.filter((x) => x.station === '3').map((x) => x.n ?? 0)
        : [],
    );
    expect(kept.reduce((a, b) => a + b, 0)).toBe(80);
  });

  it('a port that does not exist is said in words, and the board goes on without it', async () => {
    const data = runningPress();
    const board = onScreen(data, '--sensor', '/dev/ttyNOTHERE', '--profile', PROFILE);
    open.boards.push(board);
    await board.waitFor(/SENSOR LOST/);
    expect(board.screen()).toMatch(/All holding|Nothing is out/);
  });
});
