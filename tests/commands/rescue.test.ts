import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { encodeFrame } from '../../src/store/frame.js';
import { holdreg, JOB, PRESS, runningPress } from '../end-to-end/program.js';
import { recordsIn } from '../torture/ledger.js';

/** A run of six entries whose fourth line has one changed byte. */
const damagedRun = () => {
  const data = runningPress();
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  for (const args of [
    ['stop', '--counter', '6000'],
    ['stop', '--over'],
  ])
    expect(holdreg(data, ...args).code).toBe(0);
  const file = join(folder, 'log-0001.ndjson');
  const lines = readFileSync(file, 'utf8').split('\n');
  const records = recordsIn(folder).length;
  lines[3] = (lines[3] ?? '').replace('"at"', '"aT"');
  writeFileSync(file, lines.join('\n'));
  return { data, run, folder, file, records };
};

describe('a damaged run', () => {
  it('goes on in a new run with all before the damage, and what is missing is said; the old one stays as it is', () => {
    const { data, run, folder, file, records } = damagedRun();
    const before = readFileSync(file);
    expect(holdreg(data, 'stop', '--counter', '6100')).toMatchObject({ code: 3 });
    expect(holdreg(data, 'verify').out).toContain('or go on with holdreg rescue');
    const said = holdreg(data, 'rescue', run);
    expect(said.err).toBe('');
    expect(said.code).toBe(0);
    expect(said.out).toContain(`Run ${run}-rescued holds the 3 entries of run ${run} before its damage`);
    expect(said.out).toMatch(new RegExp(`One line there cannot be read and ${records - 4} whole entr`));
    expect(readFileSync(file)).toEqual(before);
    const rescued = join(data, 'runs', `${run}-rescued`);
    expect(recordsIn(rescued)).toHaveLength(4);
    expect(holdreg(data, 'check', '2:1A:0', '--counter', '6200').out).toContain(`Run ${run}-rescued: `);
    expect(holdreg(data, 'end', '--counter', '6300').code).toBe(0);
    // The evidence is in progress no more: the next run can be started.
    expect(holdreg(data, 'start', PRESS, JOB)).toMatchObject({ code: 0, err: '' });
    expect(readdirSync(folder)).toContain('rescued-as.txt');
  });

  it('a run that is whole is not rescued', () => {
    const data = runningPress();
    const [run = ''] = readdirSync(join(data, 'runs'));
    expect(holdreg(data, 'rescue', run)).toMatchObject({ code: 1, out: '' });
    expect(readdirSync(join(data, 'runs'))).toEqual([run]);
  });
});

describe('verify', () => {
  it('does not call whole what cannot be judged', () => {
    const data = runningPress();
    const [run = ''] = readdirSync(join(data, 'runs'));
    const folder = join(data, 'runs', run);
    const seq = recordsIn(folder).length + 1;
    const bad = { v: 1, seq, at: '2026-03-02T09:14:05.120Z', by: 'MK', type: 'check', check: 9, web_m: 1 };
    writeFileSync(join(folder, 'log-0001.ndjson'), encodeFrame(bad as never), { flag: 'a' });
    const said = holdreg(data, 'verify');
    expect(said.out).toContain(`entry ${seq} cannot be judged`);
    expect(said.code).toBe(1);
  });
});
