import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CLI, holdreg, JOB, logOf, newData, onScreen, PRESS, ROOT, runningPress } from '../end-to-end/program.js';
import { PROFILE, sensorFeed } from './sensor-feed.js';

const ESC = '\u001B';
/** Sets the window's title, clears the screen, asks the terminal to answer: what must never reach a terminal or a report raw. */
const EVIL = `${ESC}]0;pwned\u0007${ESC}[2J${ESC}[6n\u009B31m\u0000\u202Eeman`;
const RAW = new RegExp(`pwned\\u0007|${ESC}\\[6n|\\u009B|\\u0000|\\u202E`);

const pressWith = (change: object): string => {
  const file = join(newData(), 'press.json');
  writeFileSync(file, JSON.stringify({ ...JSON.parse(readFileSync(PRESS, 'utf8')), ...change }));
  return file;
};

describe('words that would drive the terminal', () => {
  it('in notes, names and rolls keyed at the shell are shown harmless on the board, in answers and in every report', async () => {
    const data = runningPress();
    const by = ['--by', EVIL.replace('\u0000', '')];
    const said = [
      holdreg(data, 'check', '2:5A', '--counter', '6500', '--note', EVIL.replace('\u0000', ''), ...by),
      holdreg(data, 'roll', 'off', EVIL.replace('\u0000', ''), '--counter', '7000', ...by),
      holdreg(data, 'stop', '--counter', '7100', ...by),
      ...['md', 'html', 'json', 'txt'].map((format) => holdreg(data, 'handover', '--format', format)),
      holdreg(data, 'verify'),
      // Readings go out as they came in, a text-direction mark too: it drives nothing, and the file may be read in again.
      ((csv) => ({ ...csv, out: csv.out.replaceAll('\u202E', '') }))(holdreg(data, 'export')),
    ];
    for (const one of said) {
      expect(one.out).not.toMatch(RAW);
      expect(one.err).not.toMatch(RAW);
    }
    // The log is JSON text: nothing in it is raw either.
    const folder = join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
    expect(readFileSync(join(folder, 'log-0001.ndjson'), 'latin1')).not.toMatch(/[\u0000-\u0009\u000B-\u001F]/);
    const board = onScreen(data, '--by', 'MK');
    await board.waitFor('along +ahead');
    board.type('h');
    await board.waitFor(/any other key/);
    expect(board.raw).not.toMatch(RAW);
    board.kill('SIGTERM');
    await board.exited;
  });

  it('in press and job files and in the operator’s name on the board are harmless or refused', async () => {
    const data = newData();
    const press = pressWith({ name: `Line B ${EVIL.replace('\u0000', '')}` });
    const started = holdreg(data, 'start', press, JOB, '--by', 'MK');
    expect(started.out + started.err).not.toMatch(RAW);
    if (started.code !== 0) return expect(started.code).toBe(2);
    const board = onScreen(data);
    await board.waitFor('along +ahead');
    expect(board.raw).not.toMatch(RAW);
    board.kill('SIGTERM');
    await board.exited;
  });

  it('on the sensor’s wire never reach the screen, and the run goes on', async () => {
    const data = runningPress();
    const feed = await sensorFeed(5);
    const board = onScreen(data, '--sensor', feed.path, '--profile', PROFILE);
    try {
      await board.waitFor('along +ahead');
      feed.press.fault('escape sequences');
      feed.heard(true);
      await board.waitFor(/sensor.*(noisy|refused|not understood|cannot be read)/i, 30_000);
      expect(board.raw).not.toMatch(/\]0;sensor/);
    } finally {
      feed.stop();
      board.kill('SIGTERM');
      await board.exited;
    }
  });
});

describe('files and words that are not what they seem', () => {
  it.each([
    ['a key of the prototype', `{"__proto__":{"name":"x"},"format":"press/1"}`],
    ['"constructor" for a key', `{"constructor":1,"format":"press/1"}`],
    ['JSON a hundred thousand deep', '['.repeat(100_000)],
    ['deep and closed', `{"format":${'['.repeat(50_000)}${']'.repeat(50_000)}}`],
    ['a number out of all bounds', `{"format":"press/1","name":"x","tooth_mm":1e999,"stations":[],"sample_m":1}`],
    ['not text', '\u0000\u0001\u0002'],
    ['nothing', ''],
  ])('%s: one message, code 2, no run', (_what, text) => {
    const data = newData();
    const file = join(data, 'press.json');
    writeFileSync(file, text);
    const said = holdreg(data, 'start', file, JOB);
    expect([said.code, said.out]).toEqual([2, '']);
    expect(said.err).toMatch(/press\.json/);
    expect(said.err.trim().split('\n').length).toBeLessThanOrEqual(2);
    expect(said.err.length).toBeLessThan(1000);
    expect(said.err).not.toMatch(/[\u0000-\u0009\u000B-\u001F]/);
    expect(readdirSync(data)).toEqual(['press.json']);
  });

  it.each([
    '../../out',
    '..',
    '/etc/passwd',
    'a/b',
    'con',
    'NUL.txt',
    '.hidden',
    '-x',
    'a\u0000b',
    `a${ESC}b`,
    'ä',
    'x'.repeat(65),
  ])('a run named %j is refused and nothing is made', (name) => {
    const data = newData();
    const said = spawnSync(process.execPath, [CLI, 'start', PRESS, JOB, `--run=${name.replace('\u0000', '%00')}`], {
      encoding: 'utf8',
      env: { ...process.env, HOLDREG_DATA: data },
    });
    expect(said.status).toBe(2);
    expect(said.stderr).not.toMatch(RAW);
    expect(readdirSync(data)).toEqual([]);
  });

  it('numbers that are none are refused with code 2 and change nothing', () => {
    const data = runningPress();
    const before = logOf(data).length;
    for (const reading of [
      '2:1e999A',
      '2:0x10A',
      '2:-5A',
      '2:9999999A',
      '2:5A5A',
      '2:١A',
      '__proto__:5A',
      'constructor:5A',
    ]) {
      const said = holdreg(data, 'check', reading, '--counter', '6500');
      expect([said.code, said.out], reading).toEqual([2, '']);
    }
    for (const counter of ['NaN', 'Infinity', '1e999', '0x10', '', ' '])
      expect(holdreg(data, 'stop', '--counter', counter).code, counter).toBe(2);
    expect(logOf(data)).toHaveLength(before);
  });

  it('links in the data folder are not followed', () => {
    const data = runningPress();
    const folder = join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
    const elsewhere = newData();
    const log = join(folder, 'log-0001.ndjson');
    const bytes = readFileSync(log);
    renameSync(log, join(elsewhere, 'log'));
    symlinkSync(join(elsewhere, 'log'), log);
    const said = holdreg(data, 'stop', '--counter', '9000');
    expect([said.code, said.out]).toEqual([3, '']);
    expect(said.err).toMatch(/not a plain file; links are not followed/);
    expect(readFileSync(join(elsewhere, 'log'))).toEqual(bytes);
    const other = newData();
    mkdirSync(join(other, 'there'));
    symlinkSync(join(other, 'there'), join(other, 'runs'));
    expect(holdreg(other, 'start', PRESS, JOB).code).not.toBe(0);
    expect(readdirSync(join(other, 'there'))).toEqual([]);
    // A draft or a checkpoint that is a link is not read, and what it points to is not written.
    const third = runningPress();
    const run = join(third, 'runs', readdirSync(join(third, 'runs'))[0] ?? '');
    const target = join(other, 'target');
    writeFileSync(target, 'mine');
    for (const name of ['checkpoint.json', 'drafts.json']) symlinkSync(target, join(run, name));
    expect(holdreg(third, 'stop', '--counter', '9000').code).toBe(0);
    expect(readFileSync(target, 'utf8')).toBe('mine');
  });
});

describe('what we leave open', () => {
  it('everything written is the owner’s alone, whatever the umask', async () => {
    const data = join(newData(), 'data');
    const before = process.umask(0);
    try {
      holdreg(data, 'start', PRESS, JOB, '--by', 'MK');
      holdreg(data, 'check', '2:1A:0', '3:0:1G', '4:2B:0', '5:0:0', '6:in', 'D:3A:0', '--counter', '5000');
      const board = onScreen(data);
      await board.waitFor('along +ahead');
      board.type('c');
      await board.waitFor(/CHECK|pulled/);
      board.press('enter');
      await board.waitFor('CHECK');
      board.type('5A');
      board.press('esc');
      await board.waitFor('half-keyed');
      board.kill('SIGTERM');
      await board.exited;
    } finally {
      process.umask(before);
    }
    const all = readdirSync(data, { recursive: true, withFileTypes: true });
    expect(all.length).toBeGreaterThan(3);
    for (const entry of all) {
      const path = join(entry.parentPath, entry.name);
      expect([path.replace(data, ''), statSync(path).mode & 0o077]).toEqual([path.replace(data, ''), 0]);
    }
    expect(statSync(data).mode & 0o077).toBe(0);
  });

  it('a running board with a sensor has no socket of the network open', async () => {
    const data = runningPress();
    const feed = await sensorFeed(6);
    const board = onScreen(data, '--sensor', feed.path, '--profile', PROFILE);
    try {
      await board.waitFor('along +ahead');
      feed.heard(true);
      await board.waitFor('sensor');
      const inodes = ['tcp', 'tcp6', 'udp', 'udp6', 'raw', 'raw6']
        .flatMap((table) => {
          try {
            return readFileSync(`/proc/${board.pid}/net/${table}`, 'utf8').trim().split('\n').slice(1);
          } catch {
            return [];
          }
        })
        .map((row) => row.trim().split(/\s+/)[9]);
      const open = readdirSync(`/proc/${board.pid}/fd`).flatMap((fd) => {
        try {
          return [readlinkSync(`/proc/${board.pid}/fd/${fd}`)];
        } catch {
          return [];
        }
      });
      expect(open.length).toBeGreaterThan(3);
      const ours = open.flatMap((link) => /^socket:\[(\d+)\]$/.exec(link)?.[1] ?? []);
      expect(ours.filter((inode) => inodes.includes(inode))).toEqual([]);
    } finally {
      feed.stop();
      board.kill('SIGTERM');
      await board.exited;
    }
  });

  it('no source file starts a shell or a program, evaluates text, or opens the network', () => {
    const bad =
      /node:(child_process|net|http|https|http2|dgram|tls|dns|vm|cluster)\b|\beval\(|new Function\(|\bfetch\(|WebSocket/;
    // The terminal of the simulated press is a development tool behind its own package.
    const files = readdirSync(join(ROOT, 'src'), { recursive: true, withFileTypes: true })
      .filter((e) => e.isFile() && /\.tsx?$/.test(e.name))
      .map((e) => join(e.parentPath, e.name));
    expect(files.filter((file) => bad.test(readFileSync(file, 'utf8')))).toEqual([]);
  });
});
