import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Lock, takeLock, whoHolds } from '../../src/store/lock.js';
import { isAlive, markOf } from '../../src/store/process-mark.js';
import { tempFolder } from './temp-folder.js';

const now = new Date('2026-03-02T09:14:05.120Z');

const take = (folder: string, who: Parameters<typeof takeLock>[2] = {}): Lock => {
  const lock = takeLock(folder, now, who);
  if (!lock.ok) throw new Error(lock.problem.message);
  return lock.value;
};

/** A process that is running, and one that is not any more. */
const sleeper = (): ChildProcess => spawn(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], { stdio: 'ignore' });
const ended = (child: ChildProcess): Promise<unknown> => new Promise((done) => child.once('exit', done));

const hold = (folder: string, holder: object): void =>
  writeFileSync(
    join(folder, 'lock'),
    JSON.stringify({ host: hostname(), user: 'MK', since: now.toISOString(), ...holder }),
  );

describe('the one writer of a run', () => {
  test('taken, refused to a second with who holds it, given back, taken again', () => {
    const folder = tempFolder();
    const first = take(folder);
    expect(first.held).toBe(false);
    expect(statSync(join(folder, 'lock')).mode & 0o777).toBe(0o600);
    const second = take(folder);
    if (!second.held) throw new Error('taken twice');
    expect(second.holder.pid).toBe(process.pid);
    expect(second.message).toMatch(
      new RegExp(`^held by .+ \\(process ${process.pid}\\) since 2026-03-02T09:14:05.120Z$`),
    );
    if (!first.held) first.release();
    expect(readdirSync(folder)).toEqual([]);
    expect(take(folder).held).toBe(false);
  });

  test('a running process keeps it; once killed it is free at once, reaped or not', async () => {
    const folder = tempFolder();
    const child = sleeper();
    const pid = child.pid ?? 0;
    hold(folder, markOf(pid));
    expect(take(folder).held).toBe(true);
    const gone = ended(child);
    child.kill('SIGKILL');
    while (isAlive(markOf(pid)) && readdirSync('/proc').includes(String(pid)))
      await new Promise((next) => setImmediate(next));
    expect(take(folder).held).toBe(false);
    await gone;
  });

  test('a pid that went to another process does not keep it', async () => {
    const folder = tempFolder();
    const child = sleeper();
    const mark = markOf(child.pid ?? 0);
    expect(mark.started).toMatch(/^[0-9a-f-]{36} \d+$/);
    hold(folder, { pid: mark.pid, started: `${mark.started}0` });
    expect(take(folder).held).toBe(false);
    child.kill('SIGKILL');
    await ended(child);
  });

  test('where the system told no start time, the pid alone decides', async () => {
    const folder = tempFolder();
    const child = sleeper();
    hold(folder, { pid: child.pid, started: null });
    expect(take(folder).held).toBe(true);
    child.kill('SIGKILL');
    await ended(child);
    expect(take(folder).held).toBe(false);
  });

  test('a holder on another host is believed, and the operator told what to do', () => {
    const folder = tempFolder();
    hold(folder, { pid: 1, started: null, host: 'press-2' });
    const lock = take(folder);
    expect(lock.held && lock.message).toBe(
      'held by MK (process 1 on press-2) since 2026-03-02T09:14:05.120Z; if that computer no longer runs holdreg, delete the file "lock" in the run\'s folder',
    );
  });

  test('a holder on another computer of the same name is believed, whatever its pid is here', () => {
    const folder = tempFolder();
    hold(folder, { pid: 999_999, started: null, host: `${hostname()}/0123456789ab` });
    const lock = take(folder);
    expect(lock.held && lock.message).toContain(`process 999999 on ${hostname()})`);
    expect(lock.held && lock.message).toContain('delete the file "lock"');
  });

  test('a lock of an earlier program, which knew the name alone, is read as before', () => {
    const folder = tempFolder();
    hold(folder, { pid: 999_999, started: null });
    expect(whoHolds(folder)).toBe(null);
    expect(take(folder).held).toBe(false);
    expect(whoHolds(folder)).toContain('held by');
  });

  test('what a later program adds to it is no damage', () => {
    const folder = tempFolder();
    hold(folder, { ...markOf(process.pid), colour: 'blue' });
    utimesSync(join(folder, 'lock'), 1e9, 1e9);
    expect(take(folder).held).toBe(true);
  });

  test('what killed programs left beside it is cleared away, what a living one is just putting there is not', () => {
    const folder = tempFolder();
    const of = (mark: object): string =>
      JSON.stringify({ host: hostname(), user: 'MK', since: now.toISOString(), ...mark });
    writeFileSync(join(folder, 'lock.999999-1'), of({ pid: 999_999, started: null }));
    writeFileSync(join(folder, 'lock.999999-2.next'), of({ pid: 999_999, started: null }));
    writeFileSync(join(folder, 'lock.breaking'), of({ pid: 999_999, started: null }));
    writeFileSync(join(folder, 'lock.999998-1'), '');
    utimesSync(join(folder, 'lock.999998-1'), 1e9, 1e9);
    const living = `lock.${process.ppid}-1`;
    writeFileSync(join(folder, living), of(markOf(process.ppid)));
    writeFileSync(join(folder, 'lock.txt'), 'somebody’s own');
    expect(take(folder).held).toBe(false);
    expect(readdirSync(folder).sort()).toEqual(['lock', living, 'lock.txt'].sort());
  });

  test('words from the lock file cannot drive the terminal', () => {
    const folder = tempFolder();
    hold(folder, { pid: 1, started: null, host: 'press-2', user: '\u001b[2J' });
    const lock = take(folder);
    expect(lock.held && lock.message).toContain('held by <1B>[2J');
  });

  test.each(['', '{"pid":', '[]', '{"pid":"1"}'])('a lock file cut short by a power failure (%j) is free', (text) => {
    const folder = tempFolder();
    writeFileSync(join(folder, 'lock'), text);
    utimesSync(join(folder, 'lock'), 1e9, 1e9);
    expect(take(folder).held).toBe(false);
    expect(readdirSync(folder)).toEqual(['lock']);
  });

  test('release leaves a lock that is another’s by now', () => {
    const folder = tempFolder();
    const first = take(folder);
    hold(folder, { pid: 1, started: null, host: 'press-2' });
    if (!first.held) first.release();
    expect(readFileSync(join(folder, 'lock'), 'utf8')).toContain('press-2');
  });

  test('a link in its place is refused; a folder that is gone is told', () => {
    const folder = tempFolder();
    symlinkSync('/dev/null', join(folder, 'lock'));
    const lock = takeLock(folder, now);
    expect(lock.ok ? '' : lock.problem.message).toBe(`${join(folder, 'lock')} is not a plain file; take it away`);
    const gone = takeLock(join(folder, 'gone'), now);
    expect(gone.ok ? '' : gone.problem.message).toContain('it is not there');
  });

  test('of eight programs that come at once to a stale lock, one has it', async () => {
    for (let round = 0; round < 3; round += 1) {
      const folder = tempFolder();
      const dead = sleeper();
      const mark = markOf(dead.pid ?? 0);
      dead.kill('SIGKILL');
      await ended(dead);
      hold(folder, mark);
      const go = join(folder, 'go');
      const script = `import { existsSync } from 'node:fs'; import { takeLock } from ${JSON.stringify(new URL('../../src/store/lock.ts', import.meta.url).href)};
        console.log('ready'); while (!existsSync(${JSON.stringify(go)})) {}
        const lock = takeLock(${JSON.stringify(folder)}, new Date()); console.log(lock.ok ? (lock.value.held ? 'held' : 'mine') : lock.problem.message); setInterval(() => {}, 1000);`;
      const children = Array.from({ length: 8 }, () =>
        spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script]),
      );
      const told: string[] = [];
      const all = (count: number): Promise<void> =>
        new Promise((done) => {
          const look = () => (told.length >= count ? done() : setTimeout(look, 5));
          look();
        });
      for (const child of children) {
        child.stdout.on('data', (data: Buffer) => told.push(...data.toString().trim().split('\n')));
        child.stderr.on('data', (data: Buffer) => told.push(data.toString()));
      }
      await all(8);
      writeFileSync(go, '');
      await all(16);
      expect(told.slice(8).toSorted()).toEqual(['held', 'held', 'held', 'held', 'held', 'held', 'held', 'mine']);
      const ends = children.map(ended);
      for (const child of children) child.kill('SIGKILL');
      await Promise.all(ends);
      expect(existsSync(join(folder, 'lock.breaking'))).toBe(false);
    }
  });
});
