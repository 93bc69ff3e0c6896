import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runStats } from '../../src/commands/stats.js';
import { same } from '../core/spc/must.js';
import cases from './scipy-cases.json' with { type: 'json' };

const folder = mkdtempSync(join(tmpdir(), 'stats-scipy-'));
afterAll(() => rmSync(folder, { recursive: true }));

type Answer = { points: { lower: number; upper: number }[]; result: Record<string, number> };

const ask = async (
  method: string,
  header: string,
  rows: readonly unknown[][],
  options: Record<string, string> = {},
): Promise<Answer> => {
  const file = join(folder, `${method}.csv`);
  writeFileSync(file, `${header}\n${rows.map((row) => row.join(',')).join('\n')}\n`);
  let out = '';
  const io = {
    out: (text: string) => {
      out += text;
    },
    err: () => undefined,
  };
  expect(await runStats(method, file, { ...options, json: true }, io)).toBe(0);
  return JSON.parse(out);
};

/** Every number the case has, to 11 digits. */
const agree = (got: Record<string, number>, want: Record<string, number>): void => {
  for (const [name, value] of Object.entries(want)) {
    expect(got, name).toHaveProperty(name);
    same(got[name], value, 1e-11);
  }
};

describe(`holdreg stats against scipy (${cases.source})`, () => {
  it('trend with ties in x and y', async () => {
    const { x, y, result } = cases.trend;
    agree(
      (
        await ask(
          'trend',
          'y,x',
          y.map((value, at) => [value, x[at]]),
        )
      ).result,
      result,
    );
  });

  it.each(['u', 'p'] as const)('%s: exact limits for unequal sizes, dispersion test', async (kind) => {
    const { counts, size, upper, lower, ratio, p } = cases[kind];
    const { points, result } = await ask(
      kind,
      'count,size',
      counts.map((count, at) => [count, size[at]]),
      { size: 'size' },
    );
    for (const [at, point] of points.entries()) {
      same(point.upper, upper[at] ?? 0);
      same(point.lower, lower[at] ?? 0);
    }
    agree(result, { dispersion_ratio: ratio, dispersion_p: p });
  });

  it('gauge with a real interaction', async () => {
    const rows = cases.gauge.data.flatMap((byOperator, part) =>
      byOperator.flatMap((repeats, operator) => repeats.map((value) => [part, `op ${operator}`, value])),
    );
    agree((await ask('gauge', 'part,operator,value', rows, { lower: '-10', upper: '10' })).result, cases.gauge.result);
  });

  it('capability of single readings', async () => {
    const { values, lower, upper, target, result } = cases.capability;
    const options = { lower: String(lower), upper: String(upper), target: String(target) };
    agree(
      (
        await ask(
          'capability',
          'value',
          values.map((value) => [value]),
          options,
        )
      ).result,
      result,
    );
  });
});
