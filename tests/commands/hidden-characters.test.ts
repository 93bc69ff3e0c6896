import { execFileSync, spawnSync } from 'node:child_process';
import { appendFileSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { jsonWithCodes, withoutHidden } from '../../src/core/hidden-characters.js';
import { quoted } from '../../src/core/quoted.js';
import { fromLog, recordsToCsv } from '../../src/core/readings/records-to-csv.js';
import { CLI, holdreg, JOB, logOf, newData, PRESS, runningPress } from '../end-to-end/program.js';

const HIDDEN = /[\u061c\u200b\u200e\u200f\u2028-\u202e\u2060\u2066-\u2069\ufeff]/;
/** As a program of before kept it. */
const NAME = 'M\u202eK\u202c\u200b';

describe('characters that nobody sees, from a log of before', () => {
  it('JSON says them by their codes and means the same; words and CSV are without them', () => {
    const record = { by: NAME, text: 'a\u2066b\u2069\u0085' };
    expect(jsonWithCodes(record)).not.toMatch(HIDDEN);
    expect(JSON.parse(jsonWithCodes(record))).toEqual(record);
    expect(withoutHidden(NAME)).toBe('MK');
    expect(quoted(NAME)).not.toMatch(HIDDEN);
  });

  it('come raw out of no command', () => {
    const data = runningPress();
    const records = logOf(data);
    const csv = recordsToCsv(
      fromLog([
        ...records,
        {
          v: 1,
          seq: records.length + 1,
          at: '2026-03-02T09:14:05.120Z',
          by: NAME,
          type: 'note',
          web_m: 10,
          text: NAME,
        },
      ]),
      'r',
    );
    expect(csv).toContain('MK');
    expect(csv).not.toMatch(HIDDEN);
  });

  it('a job named so says its name plainly', () => {
    const data = newData();
    const job = join(data, 'job.json');
    const text = JSON.stringify({
      ...JSON.parse(execFileSync('cat', [JOB], { encoding: 'utf8' })),
      name: `lid ${NAME}`,
    });
    writeFileSync(job, text);
    const said = holdreg(data, 'start', PRESS, job);
    expect(said.code).toBe(0);
    expect(said.out).toContain('lid MK');
    for (const args of [
      ['check', '2:1A:0', '--counter', '100'],
      [],
      ['wash', 'nobody'],
      ['export'],
      ['export', '--format', 'ndjson'],
    ]) {
      const told = holdreg(data, ...args);
      expect(told.out + told.err, args.join(' ')).not.toMatch(HIDDEN);
    }
  });
});

describe.skipIf(process.platform === 'win32')('a pipe where a file should be, or a file that is too large', () => {
  const quick = (data: string, ...args: readonly string[]) =>
    spawnSync(process.execPath, [CLI, ...args], {
      encoding: 'utf8',
      timeout: 60_000,
      env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC' },
    });

  it('is refused at once: seal, profile, people', () => {
    const data = runningPress();
    const pipe = join(data, 'pipe');
    execFileSync('mkfifo', [pipe]);
    expect(quick(data, 'verify', '--seal', pipe)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('no plain file'),
    });
    expect(quick(newData(), 'start', PRESS, JOB, '--sensor', '/dev/null', '--profile', pipe)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('no plain file'),
    });
    execFileSync('mkfifo', [join(data, 'people.json')]);
    const args = ['holds', 'released', '1', '--by', 'MK', '--second', 'JB'];
    expect(quick(data, ...args)).toMatchObject({ status: 2, stderr: expect.stringContaining('no plain file') });
  });

  it('in the place of a checkpoint is put aside, and the run opens', () => {
    const data = runningPress();
    const folder = join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');
    execFileSync('rm', ['-f', join(folder, 'checkpoint.json')]);
    execFileSync('mkfifo', [join(folder, 'checkpoint.json')]);
    expect(quick(data, 'handover').status).toBe(0);
    expect(quick(data, 'stop', '--counter', '6000').status).toBe(0);
  });

  it('a press file with a text of 50 MB is told by its size, one just allowed by the key', () => {
    const data = mkdtempSync(join(tmpdir(), 'holdreg-test-'));
    const press = join(data, 'press.json');
    writeFileSync(press, '{ "format": "press/1", "name": "');
    for (let i = 0; i < 50; i += 1) appendFileSync(press, 'x'.repeat(1_000_000));
    appendFileSync(press, '" }');
    const said = quick(data, 'start', press, JOB);
    expect(said).toMatchObject({
      status: 2,
      stderr: `holdreg: cannot read ${press}: it is 51 MB large, and no such file is larger than 1 MB; is it the right file?\n`,
    });
    writeFileSync(press, `{ "format": "press/1", "name": "${'x'.repeat(900_000)}" }`);
    const long = quick(data, 'start', press, JOB);
    expect(long.status).toBe(2);
    expect(long.stderr).not.toMatch(/call stack|\n\s+at /);
    expect(long.stderr.length).toBeLessThan(2000);
    writeFileSync(press, '['.repeat(400_000));
    const deep = quick(data, 'start', press, JOB);
    expect(deep.status).toBe(2);
    expect(deep.stderr).not.toMatch(/call stack|\n\s+at /);
  });
});
