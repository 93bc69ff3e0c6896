import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LogRecord } from '../../src/core/record.js';
import { decodeFrame } from '../../src/store/frame.js';
import { TestTerminal } from '../support/terminal.js';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const CLI = join(ROOT, 'dist/cli.js');
export const PRESS = join(ROOT, 'demo-data/press.json');
export const JOB = join(ROOT, 'demo-data/job.json');

if (!existsSync(CLI)) execFileSync('npm', ['run', 'build'], { cwd: ROOT, stdio: 'ignore' });

export type Said = { readonly code: number; readonly out: string; readonly err: string };

/** A folder of its own for a test's runs. */
export const newData = (): string => mkdtempSync(join(tmpdir(), 'holdreg-test-'));

/** The built program, run to its end without a terminal. */
export const holdreg = (data: string, ...args: readonly string[]): Said => {
  const done = spawnSync(process.execPath, [CLI, ...args], {
    encoding: 'utf8',
    env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC', NO_COLOR: '1' },
  });
  return { code: done.status ?? -1, out: done.stdout, err: done.stderr };
};

/** The built program in a pseudo-terminal. */
export const onScreen = (data: string, ...args: readonly string[]): TestTerminal =>
  new TestTerminal({ command: process.execPath, args: [CLI, ...args], env: { HOLDREG_DATA: data } });

/** Every record of a data folder's one run, read as any other program could. */
export const logOf = (data: string): readonly LogRecord[] => {
  const runs = join(data, 'runs');
  const [run = ''] = readdirSync(runs);
  const folder = join(runs, run);
  return readdirSync(folder)
    .filter((name) => name.endsWith('.ndjson'))
    .sort()
    .flatMap((name) => {
      const lines = readFileSync(join(folder, name), 'utf8')
        .split('\n')
        .filter((line) => line !== '');
      return lines.map((line) => {
        const bytes = Buffer.from(line);
        const record = decodeFrame(bytes, 0, bytes.length);
        if (typeof record === 'string') throw new Error(record);
        return record;
      });
    });
};

/** A run past OK to run, made from the shell: counter 5 000 at OK. */
export const runningPress = (): string => {
  const data = newData();
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
