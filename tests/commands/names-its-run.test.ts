import { describe, expect, it } from 'vitest';
import { holdreg, JOB, newData, PRESS } from '../end-to-end/program.js';

/** Two runs open: "zz" begun first, "aa" after it. By name the first would be the newest. */
const twoOpen = (): string => {
  const data = newData();
  for (const run of ['zz', 'aa']) expect(holdreg(data, 'start', PRESS, JOB, '--run', run, '--by', 'MK').code).toBe(0);
  return data;
};
const FULL = ['2:1A:0:clean', '3:0:1G:clean', '4:2B:0:clean', '5:0:0:clean', '6:in', 'D:3A:0', '--counter', '5000'];

describe('with two runs open', () => {
  it('what is keyed goes to the one that was begun last, and every answer names it, also in JSON and when refused', () => {
    const data = twoOpen();
    const lines = (...args: readonly string[]): readonly { readonly run: string }[] =>
      holdreg(data, ...args, '--json')
        .out.trim()
        .split('\n')
        .map((line) => JSON.parse(line));
    const checked = lines('check', ...FULL);
    expect(checked.length).toBeGreaterThan(0);
    expect(checked.map((line) => line.run)).toEqual(checked.map(() => 'aa'));
    expect(checked).toContainEqual(expect.objectContaining({ type: 'recorded', of: 'check', run: 'aa', by: 'MK' }));
    expect(holdreg(data, 'ok', '--passed-by', 'MK', '--counter', '5000').out).toMatch(/^Run aa: /m);
    expect(lines('wash', '2', '--counter', '5100')).toEqual([expect.objectContaining({ run: 'aa', of: 'wash' })]);
    expect(holdreg(data, 'wash', '77', '--counter', '5100')).toMatchObject({
      code: 2,
      err: expect.stringMatching(/^holdreg: run aa: /),
    });
    expect(holdreg(data, 'stop', '--counter', '10').err).toMatch(/^holdreg: run aa: 10 m would go back/);
    const signed = ['handover', '--sign', '--outgoing', 'MK', '--nobody'];
    expect(holdreg(data, ...signed).out).toMatch(/^Run aa: MK handed over/m);
    expect(lines(...signed).map((line) => line.run)).toEqual(expect.arrayContaining(['aa']));
    const keep = ['holds', 'keep', '--from', '5000', '--to', '5050', '--by', 'MK', '--note', 'wet'];
    expect(holdreg(data, ...keep).out).toMatch(/^Run aa: on hold: the stretch: wet/);
    expect(lines(...keep).map((line) => line.run)).toEqual(['aa']);
    expect(holdreg(data, 'export', '--run', 'zz', '--format', 'ndjson').out.trim().split('\n')).toHaveLength(1);
  });

  it('start says who opened the run, and the board knows its operator', () => {
    const data = twoOpen();
    expect(JSON.parse(holdreg(data, 'export', '--run', 'aa', '--format', 'ndjson').out).by).toBe('MK');
    expect(holdreg(data, 'stop', '--run', 'aa', '--counter', '10', '--json').out).toContain('"by":"MK"');
  });
});
