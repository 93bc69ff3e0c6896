import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { spawn } from '@lydell/node-pty';
import { afterEach, describe, expect, it } from 'vitest';
import { CLI, holdreg, logOf, onScreen, runningPress } from '../end-to-end/program.js';
import { TestTerminal } from '../support/terminal.js';
import { PROFILE, type SensorFeed, sensorFeed } from './sensor-feed.js';

const feeds: SensorFeed[] = [];
afterEach(() => {
  for (const feed of feeds.splice(0)) feed.stop();
});

const runFolderOf = (data: string): string => join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
const isRunning = (pid: number): boolean => {
  try {
    return readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.[0] !== 'Z';
  } catch {
    return false;
  }
};
const childrenOf = (pid: number): string => readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim();

/** The log is whole, the place of the writer free, the run goes on. */
const leftWell = (data: string): void => {
  expect(existsSync(join(runFolderOf(data), 'lock'))).toBe(false);
  expect(holdreg(data, 'verify').out).toMatch(/: whole, /);
  expect(holdreg(data, 'stop', '--counter', '9000').code).toBe(0);
};

const working = async (data: string): Promise<TestTerminal> => {
  const feed = await sensorFeed(3);
  feeds.push(feed);
  const board = onScreen(data, '--by', 'MK', '--sensor', feed.path, '--profile', PROFILE);
  await board.waitFor('along +ahead');
  feed.heard(true);
  board.type('n');
  await board.waitFor('Put this note');
  board.type('said');
  await board.waitFor('said');
  board.press('enter');
  await board.waitFor('Noted.');
  return board;
};

describe('leaving while a sensor sends and a form is open', () => {
  it.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ] as const)('%s: code %i, the terminal as it was, nothing left running', async (signal, code) => {
    const data = runningPress();
    const board = await working(data);
    board.type('n');
    await board.waitFor('Put this note');
    const { pid } = board;
    expect(childrenOf(pid)).toBe('');
    board.kill(signal);
    expect((await board.exited).code).toBe(code);
    expect(board.alternate()).toBe(false);
    // The cursor is shown again, and nothing is left on: mouse, bracketed paste.
    expect(board.raw.lastIndexOf('\u001B[?25h')).toBeGreaterThan(board.raw.lastIndexOf('\u001B[?25l'));
    for (const mode of ['1000', '1002', '1003', '1006', '2004'])
      expect(board.raw.lastIndexOf(`\u001B[?${mode}l`)).toBeGreaterThanOrEqual(
        board.raw.lastIndexOf(`\u001B[?${mode}h`),
      );
    expect(isRunning(pid)).toBe(false);
    expect(logOf(data).some((r) => r.type === 'note' && r.text === 'said')).toBe(true);
    leftWell(data);
  });

  it('Ctrl-C asks, twice leaves with code 130', async () => {
    const data = runningPress();
    const board = await working(data);
    board.press('ctrl-c');
    await board.waitFor(/leave|quit/i);
    board.press('ctrl-c');
    expect((await board.exited).code).toBe(130);
    leftWell(data);
  });

  it('a fault in the program: the screen is given back, the fault printed, code 3', async () => {
    const data = runningPress();
    const board = new TestTerminal({
      command: process.execPath,
      args: ['--import', 'data:text/javascript,setTimeout(()=>{throw new Error("plum stone")},4000)', CLI],
      env: { HOLDREG_DATA: data },
    });
    await board.waitFor('along +ahead');
    expect((await board.exited).code).toBe(3);
    expect(board.alternate()).toBe(false);
    expect(board.screen()).toContain('plum stone');
    leftWell(data);
  });

  it('the terminal closed: it ends by itself and leaves the run free', async () => {
    const data = runningPress();
    const env: Record<string, string> = {
      PATH: process.env.PATH ?? '',
      HOLDREG_DATA: data,
      TERM: 'xterm',
      LANG: 'C.UTF-8',
    };
    const pty = spawn(process.execPath, [CLI], { cols: 80, rows: 24, env });
    let seen = '';
    pty.onData((text) => {
      seen += text;
    });
    while (!seen.includes('reference')) await new Promise((next) => setTimeout(next, 20));
    const { pid } = pty;
    // What closing the window does: the far end goes, and the system sends SIGHUP.
    Reflect.get(pty, 'destroy').call(pty);
    while (isRunning(pid)) await new Promise((next) => setTimeout(next, 20));
    leftWell(data);
  });
});
