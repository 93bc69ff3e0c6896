import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { holdreg, JOB, newData, PRESS, runningPress } from '../end-to-end/program.js';
import { killCommands } from './kill-commands.js';
import { recordsIn } from './ledger.js';

/** The short form; `npm run torture` kills a thousand commands. */
describe('commands killed with -9 at random moments', () => {
  it('nothing that was said to be taken is lost, and every command works afterwards', async () => {
    const told = await killCommands({ kills: 15, seed: 3 });
    expect(told).toMatchObject({ kills: 15, lost: [], stuck: [] });
    expect(told.hit).toBeGreaterThan(0);
  }, 240_000);
});

describe('a run folder without a first record', () => {
  it.each([
    ['empty', {}],
    ['with an empty log and a lock', { 'log-0001.ndjson': '', lock: '' }],
    ['with half a first line', { 'log-0001.ndjson': '{"crc":"1a2b' }],
  ])('%s: the run in progress goes on, a start takes the name, verify says so', (_, files) => {
    const data = runningPress();
    const [run = ''] = readdirSync(join(data, 'runs'));
    const left = join(data, 'runs', 'z9');
    mkdirSync(left);
    for (const [name, text] of Object.entries(files)) writeFileSync(join(left, name), text);
    const stopped = holdreg(data, 'stop', '--counter', '6000');
    expect(stopped.err).toBe('');
    expect(stopped.out).toContain(`Run ${run}: `);
    expect(holdreg(data, 'handover', '--format', 'txt').code).toBe(0);
    expect(holdreg(data, 'verify').out).toContain(
      'z9: no run: there is no entry in this folder, as after a start that was cut short',
    );
    const started = holdreg(data, 'start', PRESS, JOB, '--run', 'z9');
    expect(started.err).toBe('');
    expect(recordsIn(left)).toHaveLength(1);
    expect(holdreg(data, 'start', PRESS, JOB, '--run', 'z9').code).toBe(2);
  });
});

describe('two runs open at once', () => {
  it('the shell writes to the one begun last, whatever their names, and says which', () => {
    const data = newData();
    for (const run of ['z-first', 'a-second']) expect(holdreg(data, 'start', PRESS, JOB, '--run', run).code).toBe(0);
    const stopped = holdreg(data, 'stop', '--counter', '100');
    expect(stopped.out).toContain('Run a-second: ');
    expect(recordsIn(join(data, 'runs', 'z-first'))).toHaveLength(1);
    expect(recordsIn(join(data, 'runs', 'a-second'))).toHaveLength(2);
  });
});
