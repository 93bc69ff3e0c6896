import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RECORD_VERSION } from '../../src/core/record.js';
import { encodeFrame } from '../../src/store/frame.js';
import { takeLock } from '../../src/store/lock.js';
import { markOf } from '../../src/store/process-mark.js';
import { holdreg, logOf, onScreen, runningPress } from '../end-to-end/program.js';
import { foldFromScratch, recordsIn } from './ledger.js';

const folderOf = (data: string): string => join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');

describe('two programs on one run', () => {
  it('the second looks on, sees what the first writes, and writes nothing; killed with -9 the first leaves its place free', async () => {
    const data = runningPress();
    const first = onScreen(data, '--by', 'MK');
    await first.waitFor('along +ahead');
    const second = onScreen(data, '--by', 'ZZ');
    await second.waitFor(/READ ONLY: held by/);
    first.type('n');
    await first.waitFor('Put this note');
    first.type('from the first');
    await first.waitFor('from the first');
    first.press('enter');
    await first.waitFor('Noted.');
    const before = logOf(data).length;
    second.type('n');
    await second.waitFor(/only looks/);
    // An entry of the first reaches the second: the stop is in its header.
    first.type('x');
    await first.waitFor(/[Ss]top/);
    first.press('enter');
    await second.waitFor(/stopped/);
    first.kill('SIGKILL');
    await first.exited;
    const lock = takeLock(folderOf(data), new Date());
    expect(lock.ok && !lock.value.held).toBe(true);
    if (lock.ok && !lock.value.held) lock.value.release();
    second.kill('SIGTERM');
    await second.exited;
    expect(logOf(data).filter((r) => r.by === 'ZZ')).toEqual([]);
    expect(logOf(data).length).toBeGreaterThan(before);
  });

  it('when the first has died the second says so, and the next act takes the run over with what was half keyed', async () => {
    const data = runningPress();
    const first = onScreen(data, '--by', 'MK');
    await first.waitFor('along +ahead');
    const second = onScreen(data, '--by', 'ZZ');
    await second.waitFor(/READ ONLY: held by/);
    first.type('p');
    await first.waitFor('counter, m');
    first.type('5500');
    first.press('enter');
    await first.waitFor(/Mark on it/);
    first.type('c');
    await first.waitFor(/l looked/);
    first.type('7A');
    first.press('tab');
    await first.waitFor(/0\.07/);
    first.kill('SIGKILL');
    await first.exited;
    await second.waitFor(/READ ONLY: whoever held the run has ended/);
    second.type('c');
    await second.waitFor('This board writes the run now');
    expect(second.screen()).not.toContain('READ ONLY');
    second.type('c');
    await second.waitFor(/0\.07/);
    second.press('esc');
    second.type('n');
    await second.waitFor('Put this note');
    second.type('taken over');
    second.press('enter');
    await second.waitFor('Noted.');
    second.kill('SIGTERM');
    expect((await second.exited).code).toBe(143);
    expect(logOf(data).at(-1)).toMatchObject({ type: 'note', text: 'taken over', by: 'ZZ' });
    expect(readdirSync(folderOf(data))).not.toContain('lock');
    expect(holdreg(data, 'verify').out).toMatch(/: whole, /);
  });

  it('a lock of another computer on a shared folder is believed, with what to do', async () => {
    const data = runningPress();
    const file = join(folderOf(data), 'lock');
    const since = '2026-03-02T09:14:05.120Z';
    writeFileSync(file, JSON.stringify({ pid: 77, started: null, host: 'press-2', user: 'MK', since }));
    const board = onScreen(data);
    await board.waitFor(/READ ONLY: held by MK \(process 77 on press-2\)/);
    board.kill('SIGTERM');
    await board.exited;
    const shell = holdreg(data, 'stop', '--counter', '9000');
    expect(shell.code).toBe(1);
    expect(shell.err).toMatch(/delete the file "lock" in the run's folder/);
    expect(readFileSync(file, 'utf8')).toContain('press-2');
  });

  it('a pid that went to another process holds nothing', () => {
    const data = runningPress();
    const mark = markOf(process.pid);
    writeFileSync(
      join(folderOf(data), 'lock'),
      JSON.stringify({
        ...mark,
        started: `${mark.started}1`,
        host: hostname(),
        user: 'MK',
        since: '2026-03-02T09:14:05Z',
      }),
    );
    expect(holdreg(data, 'stop', '--counter', '9000').code).toBe(0);
  });

  it('of six acts from six shells at once each is written once or refused with who holds the run', async () => {
    const data = runningPress();
    const { spawn } = await import('node:child_process');
    const { CLI } = await import('../end-to-end/program.js');
    const ends = await Promise.all(
      Array.from(
        { length: 6 },
        (_, i) =>
          new Promise<number>((done) => {
            const child = spawn(process.execPath, [CLI, 'check', `2:${i}A`, '--counter', '6000', '--by', `P${i}`], {
              env: { ...process.env, HOLDREG_DATA: data },
              stdio: 'ignore',
            });
            child.once('exit', (code) => done(code ?? -1));
          }),
      ),
    );
    const written = logOf(data).flatMap((r) => (r.type === 'check' && /^P\d$/.test(r.by) ? [r.by] : []));
    expect(ends.every((code) => code === 0 || code === 1)).toBe(true);
    expect(written.toSorted()).toEqual(ends.flatMap((code, i) => (code === 0 ? [`P${i}`] : [])));
    expect(written.length).toBeGreaterThan(0);
    expect(holdreg(data, 'verify').out).toMatch(/whole/);
  });
});

describe('a run whose last line has no end', () => {
  it('opens without it, the board says so, and the copy as found is kept', async () => {
    const data = runningPress();
    const folder = folderOf(data);
    const log = join(folder, 'log-0001.ndjson');
    const before = logOf(data).length;
    const whole = readFileSync(log);
    writeFileSync(log, Buffer.concat([whole, Buffer.from('{"crc":"0000')]));
    const board = onScreen(data);
    await board.waitFor(/the last line has no end, as after a power cut or a crash; its 12 bytes/);
    board.kill('SIGTERM');
    await board.exited;
    expect(readFileSync(log)).toEqual(whole);
    expect(logOf(data)).toHaveLength(before);
    expect(readdirSync(folder)).toContain('log-0001.ndjson.torn-1');
  });
});

describe('a run of another version of the program', () => {
  it('newer: refused with what to do, and nothing is changed', () => {
    const data = runningPress();
    const folder = folderOf(data);
    const log = join(folder, 'log-0001.ndjson');
    const records = recordsIn(folder);
    const body = { type: 'note', web_m: null, text: 'of tomorrow' } as const;
    const newer = encodeFrame({
      v: RECORD_VERSION + 1,
      seq: records.length + 1,
      at: '2027-01-01T00:00:00.000Z',
      by: 'MK',
      ...body,
    });
    const text = Buffer.concat([readFileSync(log), newer]);
    writeFileSync(log, text);
    for (const args of [['stop', '--counter', '9000'], ['handover'], ['export']]) {
      const said = holdreg(data, ...args);
      expect([said.code, said.out], args.join(' ')).toEqual([args[0] === 'stop' ? 3 : said.code, '']);
      expect(said.code).not.toBe(0);
      expect(said.err).toMatch(/written by a newer holdregister .*use the newer program/);
    }
    expect(readFileSync(log)).toEqual(text);
  });

  it('older: opened, judged by this one’s rules, and gone on with', () => {
    const data = runningPress();
    const folder = folderOf(data);
    const log = join(folder, 'log-0001.ndjson');
    const aged = recordsIn(folder).map((r) => (r.type === 'begin' ? { ...r, rules: 0, program: '0.0.1' } : r));
    writeFileSync(log, Buffer.concat(aged.map(encodeFrame)));
    const said = holdreg(data, 'check', '2:5A', '--counter', '6500');
    expect([said.code, said.err]).toEqual([0, '']);
    expect(foldFromScratch(folder).judged.checks.made).toBe(2);
  });
});
