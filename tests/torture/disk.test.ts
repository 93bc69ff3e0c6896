import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { CLI, holdreg, JOB, logOf, onScreen, PRESS } from '../end-to-end/program.js';
import { TestTerminal } from '../support/terminal.js';
import { PROFILE, type SensorFeed, sensorFeed } from './sensor-feed.js';

/** A small disk of its own, where the system lets us mount one. */
const mounted: string[] = [];
const smallDisk = (): string => {
  const at = mkdtempSync(join(tmpdir(), 'holdreg-disk-'));
  execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=512k,mode=700', 'tmpfs', at], { stdio: 'ignore' });
  mounted.push(at);
  return at;
};
const canMount = ((): boolean => {
  const at = mkdtempSync(join(tmpdir(), 'holdreg-disk-'));
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', at], { stdio: 'ignore' }).status !== 0)
    return false;
  execFileSync('umount', [at]);
  return true;
})();
const open: { stop(): unknown }[] = [];
afterEach(async () => {
  for (const one of open.splice(0)) await one.stop();
  for (const at of mounted.splice(0)) spawnSync('umount', ['-l', at]);
});

const startRun = (data: string): string => {
  for (const args of [
    ['start', PRESS, JOB, '--by', 'MK'],
    ['check', '2:1A:0:clean', '3:0:1G:clean', '4:2B:0:clean', '5:0:0:clean', '6:in', 'D:3A:0', '--counter', '5000'],
    ['ok', '--passed-by', 'MK', '--counter', '5000'],
  ]) {
    const said = holdreg(data, ...args);
    if (said.code !== 0) throw new Error(said.err);
  }
  return data;
};

const boardWithSensor = async (data: string): Promise<{ board: TestTerminal; feed: SensorFeed }> => {
  const feed = await sensorFeed(7);
  const board = onScreen(data, '--by', 'MK', '--sensor', feed.path, '--profile', PROFILE);
  open.push(feed, { stop: () => board.close() });
  await board.waitFor('along +ahead');
  await board.waitFor('sensor');
  feed.heard(true);
  return { board, feed };
};

/** Keys a note and stays in its form. */
const keyNote = async (board: TestTerminal, text: string): Promise<void> => {
  board.type('n');
  await board.waitFor('Put this note');
  board.type(text);
  await board.waitFor(text);
  board.press('enter');
};

const notesOf = (data: string): readonly string[] =>
  logOf(data).flatMap((r) => (r.type === 'note' && r.by === 'MK' ? [r.text] : []));
const sensorChecks = (data: string): readonly number[] =>
  logOf(data).flatMap((r) => (r.type === 'check' && r.source === 'sensor' ? [Number(r.check)] : []));

/** The fault comes, a note is keyed and a sensor reads on; the fault goes, and everything is there once. */
const throughFault = async (data: string, words: RegExp, fault: () => void, mend: () => void): Promise<void> => {
  const { board, feed } = await boardWithSensor(data);
  await keyNote(board, 'before the fault');
  await board.waitFor('Noted.');
  fault();
  await board.waitFor(/NOT SAVED, \d+ sensor entr/);
  await keyNote(board, 'keyed meanwhile');
  await board.waitFor(/^ NOT SAVED: /m);
  await board.waitFor(words);
  // What was keyed stands in its field still.
  expect(board.screen()).toMatch(/note {2}keyed meanwhile/);
  mend();
  await board.waitFor((screen) => !/NOT SAVED, .*sensor entr/.test(screen));
  expect(notesOf(data)).toEqual(['before the fault']);
  board.press('enter');
  await board.waitFor('Noted.');
  expect(board.screen()).not.toContain('NOT SAVED');
  expect(notesOf(data)).toEqual(['before the fault', 'keyed meanwhile']);
  const numbers = sensorChecks(data);
  expect(numbers.length).toBeGreaterThan(0);
  expect(numbers).toEqual(numbers.map((_, i) => (numbers[0] ?? 0) + i));
  expect(holdreg(data, 'verify').out).toMatch(/whole/);
  feed.heard(false);
  board.kill('SIGTERM');
  expect((await board.exited).code).toBe(143);
};

describe('the disk under a running board', () => {
  it.runIf(canMount)(
    'full',
    async () => {
      const disk = smallDisk();
      const data = startRun(join(disk, 'data'));
      const filler = join(disk, 'filler');
      const fill = (): void => {
        for (let size = 1 << 19; size >= 1; size >>= 1)
          try {
            writeFileSync(filler, Buffer.alloc(size), { flag: 'a' });
          } catch {
            // A smaller piece may still fit.
          }
      };
      await throughFault(data, /the disk is full; free some space/, fill, () => rmSync(filler));
    },
    120_000,
  );

  it.runIf(canMount)(
    'read-only: the board only looks and says why; an act from the shell is refused with code 3',
    async () => {
      const disk = smallDisk();
      const data = startRun(join(disk, 'data'));
      execFileSync('mount', ['-o', 'remount,ro', disk]);
      await onlyLooks(onScreen(data), /READ ONLY: .*read-only/);
      const shell = holdreg(data, 'stop', '--counter', '6000');
      expect([shell.code, shell.out]).toEqual([3, '']);
      expect(shell.err).toMatch(/read-only; choose another folder with --data/);
      execFileSync('mount', ['-o', 'remount,rw', disk]);
      expect(holdreg(data, 'stop', '--counter', '6000').code).toBe(0);
    },
    60_000,
  );

  it('its folder taken away and put back', async () => {
    const data = startRun(mkdtempSync(join(tmpdir(), 'holdreg-test-')));
    const runs = join(data, 'runs');
    await throughFault(
      data,
      /its folder is gone; put it back/,
      () => renameSync(runs, `${runs}-away`),
      () => renameSync(`${runs}-away`, runs),
    );
  }, 120_000);

  it('no permission: the board only looks and says why', async () => {
    const data = startRun(mkdtempSync(join(tmpdir(), 'holdreg-test-')));
    const folder = join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
    for (const path of [data, join(data, 'runs'), folder]) chmodSync(path, 0o555);
    for (const name of readdirSync(folder)) chmodSync(join(folder, name), 0o444);
    const before = logOf(data).length;
    await onlyLooks(asSomebodyElse(data), /READ ONLY: .*no permission/);
    expect(logOf(data)).toHaveLength(before);
  }, 60_000);
});

/** The system itself is slow or fails, where it lets itself be traced. */
const canTrace = spawnSync('strace', ['-o', '/dev/null', '-e', 'trace=none', 'true'], { stdio: 'ignore' }).status === 0;

const boardOn = (data: string, inject: string): TestTerminal => {
  const board = new TestTerminal({
    command: 'strace',
    args: [
      '-f',
      '-q',
      '-o',
      '/dev/null',
      '-e',
      'trace=fdatasync',
      '-e',
      `inject=fdatasync:${inject}`,
      process.execPath,
      CLI,
      '--by',
      'MK',
    ],
    env: { HOLDREG_DATA: data },
  });
  open.push({ stop: () => board.close() });
  return board;
};

describe.runIf(canTrace)('a sync of the system that', () => {
  it('takes five seconds: the board says what it waits for, shows nothing before, and keys wait their turn', async () => {
    const data = startRun(mkdtempSync(join(tmpdir(), 'holdreg-test-')));
    const board = boardOn(data, 'delay_enter=5000000');
    await board.waitFor('along +ahead', 60_000);
    await keyNote(board, 'slow');
    const waiting = await board.waitFor(/NOT SAVED YET: the disk has been writing for \d+ s/);
    expect(waiting).not.toContain('Noted.');
    const done = await board.waitFor('Noted.');
    expect(done).not.toContain('NOT SAVED');
    expect(notesOf(data)).toEqual(['slow']);
  }, 120_000);

  it('fails some times: refused each time, the entry stays in its field, and in the end it is there once', async () => {
    const data = startRun(mkdtempSync(join(tmpdir(), 'holdreg-test-')));
    const board = boardOn(data, 'error=EIO:when=1');
    await board.waitFor('along +ahead', 60_000);
    await keyNote(board, 'once');
    await board.waitFor(/^ NOT SAVED: could not write/m);
    expect(board.screen()).toMatch(/LAST ENTRY NOT SAVED, \d\d:\d\d: the disk reported an error/);
    expect(notesOf(data)).toEqual([]);
    // The system counts by thread, and the program syncs on four.
    for (let time = 0; time < 12 && !board.screen().includes('Noted.'); time += 1) {
      board.press('enter');
      await board.waitFor(/Noted\.|NOT SAVED/);
      await new Promise((next) => setTimeout(next, 300));
    }
    await board.waitFor('Noted.');
    expect(notesOf(data)).toEqual(['once']);
  }, 120_000);
});

const onlyLooks = async (board: TestTerminal, why: RegExp): Promise<void> => {
  open.push({ stop: () => board.close() });
  await board.waitFor(why);
  board.type('n');
  await board.waitFor(/only looks/);
  board.kill('SIGTERM');
  expect((await board.exited).code).toBe(143);
};

/** The super-user is never refused: then the board is another user's. */
const asSomebodyElse = (data: string): TestTerminal =>
  process.getuid?.() === 0
    ? new TestTerminal({
        command: 'setpriv',
        args: ['--reuid', '65534', '--regid', '65534', '--clear-groups', process.execPath, CLI],
        env: { HOLDREG_DATA: data },
      })
    : onScreen(data);
