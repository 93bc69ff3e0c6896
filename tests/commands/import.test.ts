import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { holdreg, JOB, newData, PRESS, ROOT, runningPress } from '../end-to-end/program.js';
import { recordsIn } from '../torture/ledger.js';

const [HEAD = '', ...ROWS] = readFileSync(join(ROOT, 'demo-data/run.csv'), 'utf8').trim().split(/\r?\n/);
const runsFile = (folder: string, ...runs: readonly string[]): string => {
  const file = join(folder, 'runs.csv');
  writeFileSync(
    file,
    `${[HEAD, ...runs.flatMap((run) => ROWS.map((row) => row.replace(/^[^,]*/, run)))].join('\n')}\n`,
  );
  return file;
};

describe('import is all or nothing', () => {
  it('of two runs, the one that is there entry for entry is passed over, the other is made', () => {
    const data = newData();
    const args = ['import', runsFile(data, 'a', 'b'), '--press', PRESS, '--job', JOB];
    expect(holdreg(data, ...args).code).toBe(0);
    const before = recordsIn(join(data, 'runs', 'a')).length;
    // As a kill between the two names would leave it.
    rmSync(join(data, 'runs', 'b'), { recursive: true });
    const again = holdreg(data, ...args);
    expect(again.err).toBe('');
    expect(recordsIn(join(data, 'runs', 'b'))).toHaveLength(before);
    expect(recordsIn(join(data, 'runs', 'a'))).toHaveLength(before);
    expect(holdreg(data, ...args).err).toContain('there is a run a already');
  });

  it('of two runs, one of a name that another run has: nothing is made of either', () => {
    const data = newData();
    mkdirSync(join(data, 'runs'));
    const other = runningPress();
    const [run = ''] = readdirSync(join(other, 'runs'));
    cpSync(join(other, 'runs', run), join(data, 'runs', 'b'), { recursive: true });
    const said = holdreg(data, 'import', runsFile(data, 'a', 'b'), '--press', PRESS, '--job', JOB);
    expect(said.err).toContain('there is a run b already');
    expect(said.code).toBe(2);
    expect(readdirSync(join(data, 'runs'))).toEqual(['b']);
  });

  it('into a run that is there: one segment more, which is there whole or not at all', () => {
    const data = runningPress();
    const [run = ''] = readdirSync(join(data, 'runs'));
    const folder = join(data, 'runs', run);
    const file = join(data, 'more.csv');
    writeFileSync(
      file,
      'run,check,time,web_m,roll,kind,station,along_mm,across_mm\n,x1,,6000,,reading,2,0.01,\n,x2,,6100,,reading,2,0.02,\n',
    );
    // What a killed import left of its segment is no part of the log.
    writeFileSync(join(folder, 'log-0002.ndjson.new'), '{"crc":"half a li');
    const before = recordsIn(folder).length;
    expect(holdreg(data, 'import', file, '--run', run)).toMatchObject({ code: 0, err: '' });
    expect(existsSync(join(folder, 'log-0002.ndjson'))).toBe(true);
    expect(readdirSync(folder).filter((name) => name.endsWith('.new'))).toEqual([]);
    expect(recordsIn(folder)).toHaveLength(before + 2);
    expect(holdreg(data, 'stop', '--counter', '12000').code).toBe(0);
    expect(recordsIn(folder)).toHaveLength(before + 3);
    expect(holdreg(data, 'verify').out).toContain(`${run}: whole, ${before + 3} entries`);
  });
});
