import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openBoundedFile } from '../../src/devices/bounded-file.js';
import { CLI, holdreg, JOB, logOf, newData, runningPress } from '../end-to-end/program.js';

describe('files that are no text of ours', () => {
  it('Latin-1 is refused with the line, not taken as other letters', () => {
    const data = newData();
    const press = join(data, 'press.json');
    writeFileSync(press, Buffer.from('{\n "name": "Stra\xdfe"\n}', 'latin1'));
    expect(holdreg(data, 'start', press, JOB)).toMatchObject({
      code: 2,
      err: `holdreg: ${press}: line 2: it is not UTF-8 text; save the file as UTF-8\n`,
    });
  });

  it.skipIf(process.platform === 'win32')('a pipe is refused at once', () => {
    const data = newData();
    const pipe = join(data, 'press.json');
    execFileSync('mkfifo', [pipe]);
    expect(holdreg(data, 'start', pipe, JOB)).toMatchObject({ code: 2, err: expect.stringContaining('no plain file') });
  });

  it('what a sensor sent is for the owner only, whatever the umask', async () => {
    const before = process.platform === 'win32' ? 0 : 1;
    const folder = join(mkdtempSync(join(tmpdir(), 'holdreg-test-')), 'sensor');
    const file = await openBoundedFile({
      folder,
      name: 'raw',
      maxBytes: 10_000,
      maxAgeMs: 1e9,
      now: Date.now,
      onTrouble: () => undefined,
    });
    file.write('a line\n');
    await file.close();
    if (before === 0) return;
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    expect(statSync(join(folder, 'raw-000001.txt')).mode & 0o777).toBe(0o600);
  });
});

describe.skipIf(process.platform !== 'linux')('standard output that was closed', () => {
  const closed = (data: string, how: string, ...args: readonly string[]) =>
    spawnSync('sh', ['-c', `"$@" ${how}; echo "code $?" >&2`, 'sh', process.execPath, CLI, ...args], {
      encoding: 'utf8',
      env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC' },
    }).stderr;

  it('is as good as a full one: said, with code 3, and what was entered is in the log', () => {
    const data = runningPress();
    const before = logOf(data).length;
    for (const args of [['handover'], ['stop', '--counter', '6000']])
      expect(closed(data, '>&-', ...args)).toBe(
        'holdreg: the answer could not be written out (standard output is closed); entries that were made are in the log\ncode 3\n',
      );
    expect(logOf(data).length).toBe(before + 1);
  });

  it('an answer that is thrown away on purpose is no trouble', () => {
    const data = runningPress();
    expect(closed(data, '> /dev/null', 'handover')).toBe('code 0\n');
    const node = spawnSync(process.execPath, [CLI, 'handover'], {
      stdio: 'ignore',
      env: { ...process.env, HOLDREG_DATA: data },
    });
    expect(node.status).toBe(0);
  });
});

describe.skipIf(!existsSync('/dev/full'))('an answer that cannot be written out', () => {
  const toFull = (data: string, ...args: readonly string[]) =>
    spawnSync('sh', ['-c', 'exec "$@" > /dev/full', 'sh', process.execPath, CLI, ...args], {
      encoding: 'utf8',
      env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC' },
    });

  it('is said in one line with code 3, and what was entered is in the log', () => {
    const data = runningPress();
    const before = logOf(data).length;
    for (const args of [['handover'], ['stop', '--counter', '6000']]) {
      const done = toFull(data, ...args);
      expect(done.stderr).toBe(
        'holdreg: the answer could not be written out (the disk is full; free some space); entries that were made are in the log\n',
      );
      expect(done.status).toBe(3);
    }
    expect(logOf(data)).toHaveLength(before + 1);
  });
});
