import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { TestTerminal } from '../support/terminal.js';
import { openPtyPort } from './support/pty-port.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const CLI = join(root, 'dist/cli.js');
let ending: (() => void | Promise<void>)[] = [];
afterEach(async () => {
  for (const end of ending.toReversed()) await end();
  ending = [];
});
const cli = (...args: readonly string[]): string =>
  execFileSync(process.execPath, [CLI, ...args], { encoding: 'utf8' });

describe('the built program with a sensor on a real pseudo-terminal', () => {
  it('shows readings, an unplug and the way back on the board; nothing off the wire gets to the terminal or the handover as it came', async () => {
    const scratch = mkdtempSync(join(tmpdir(), 'holdreg-board-sensor-'));
    ending.push(() => rmSync(scratch, { recursive: true, force: true }));
    const link = join(scratch, 'sensor');
    cli(
      'start',
      join(root, 'demo-data/press.json'),
      join(root, 'demo-data/job.json'),
      '--data',
      scratch,
      '--run',
      'r1',
      '--by',
      'MK',
      '--no-board',
    );
    cli('check', '2:0:0', '3:0:0', '4:0:0', '5:0:0', 'D:0:0', '6:in', '--data', scratch, '--counter', '0');
    cli('ok', '--data', scratch, '--passed-by', 'MK', '--counter', '10');
    // The sensor's profile and the board are there before the sensor is.
    const board = new TestTerminal({
      command: process.execPath,
      args: [CLI, '--data', scratch, '--sensor', link, '--profile', join(root, 'devices/line-delimited.json')],
      columns: 120,
      rows: 34,
    });
    ending.push(() => board.close());
    await board.waitFor(/no port/i);
    const pty = await openPtyPort();
    symlinkSync(pty.path, link);
    await board.waitFor(/sensor reading/);
    await new Promise((resolve) => setTimeout(resolve, 200));
    const evil = '\u001b]0;owned\u0007\u001b[2J\u001b[31m,1,1,80\r\n\u009b2J,0,0,80\r\n';
    for (let k = 0; k < 55; k += 1) {
      pty.write(`2,0.0${k % 2 === 0 ? 6 : 8},0.011,80\r\n3,-0.02${k % 10},0.000,80\r\n${k % 5 === 0 ? evil : ''}`);
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    await board.waitFor(/\+0\.07/);
    pty.unplug();
    await board.waitFor(/went away|LOST/);
    rmSync(link);
    const again = await openPtyPort();
    ending.push(again.unplug);
    symlinkSync(again.path, link);
    await board.waitFor(/sensor reading|back/i);
    board.press('esc');
    board.type('q');
    await board.waitFor(() => true);
    board.press('enter');
    await Promise.race([board.exited, new Promise((resolve) => setTimeout(resolve, 3000))]);
    expect(board.raw).not.toContain('owned');
    expect(board.raw).not.toContain('\u009b');
    const handover = cli('handover', '--data', scratch, '--run', 'r1');
    expect(handover).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/);
    const kept = join(scratch, 'runs', 'r1', 'sensor');
    const refused = readdirSync(kept)
      .map((file) => readFileSync(join(kept, file), 'latin1'))
      .join('');
    expect(refused).toContain('control bytes: <1B>]0;owned<07><1B>[2J<1B>[31m,1,1,80');
    expect(refused).not.toMatch(/[^\x20-\x7e\n]/);
  });
});
