import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runStats, statsCommand } from '../../src/commands/stats.js';
import { near, same } from '../core/spc/must.js';
import { PISTON_RINGS } from '../core/spc/piston-rings.js';
import { published, titleOf } from '../core/spc/published.js';

const folder = mkdtempSync(join(tmpdir(), 'stats-'));
afterAll(() => rmSync(folder, { recursive: true }));

type Answer = {
  method: string;
  n: number;
  centre: number;
  sigma: number;
  points: {
    i: number;
    value: number | null;
    statistic: number;
    lower: number;
    upper: number;
    signals: string[];
    high: number;
    low: number;
    limit: number;
  }[];
  parameters: Record<string, unknown>;
  result: Record<string, number>;
};

let files = 0;
const csv = (text: string): string => {
  files += 1;
  const file = join(folder, `readings-${files}.csv`);
  writeFileSync(file, text);
  return file;
};
const column = (values: readonly unknown[], name = 'value'): string => csv(`${name}\n${values.join('\n')}\n`);

const run = async (method: string, file: string | undefined, options: Record<string, unknown> = {}) => {
  let out = '';
  let err = '';
  const code = await runStats(method, file, options, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
};

/** The JSON document; fails when the exit code is not the one expected or stdout holds anything else. */
const ask = async (
  method: string,
  file: string | undefined,
  options: Record<string, unknown> = {},
  code = 0,
): Promise<Answer> => {
  const got = await run(method, file, { ...options, json: true });
  expect(got.err === '' || code !== 0, got.err).toBe(true);
  expect(got.code, got.err).toBe(code);
  expect(got.out.endsWith('}\n') && !got.out.slice(0, -1).includes('\n')).toBe(true);
  return JSON.parse(got.out);
};

/** A refusal: exit 2, nothing on stdout, one or two lines on stderr. */
const refusal = async (
  method: string,
  file: string | undefined,
  options: Record<string, unknown> = {},
): Promise<string> => {
  const { code, out, err } = await run(method, file, options);
  expect(code, err).toBe(2);
  expect(out).toBe('');
  expect(err.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
  expect(err.trim().length).toBeGreaterThan(10);
  return err;
};

const signalsAt = (answer: Answer): number[] =>
  answer.points.filter(({ signals }) => signals.length > 0).map(({ i }) => i);

describe('published cases at the shell', () => {
  it(titleOf('nist-imr-flowrate'), async () => {
    const { values } = published('nist-imr-flowrate').inputs as { values: number[] };
    const full = published('nist-imr-flowrate').expected_full_precision as Record<string, number>;
    const answer = await ask('individuals', column(values));
    expect(answer).toMatchObject({ method: 'individuals', n: 10 });
    same(answer.centre, full.mean ?? 0);
    same(answer.points[0]?.upper, full.ucl_exact_d2 ?? 0);
    same(answer.points[0]?.lower, full.lcl_exact_d2 ?? 0);
    expect(answer.points).toHaveLength(10);
  });

  it(titleOf('nist-ewma'), async () => {
    const { values, lambda_, target, s } = published('nist-ewma').inputs as {
      values: number[];
      lambda_: number;
      target: number;
      s: number;
    };
    const want = published('nist-ewma').expected as { ewma: number[]; ucl: number; lcl: number };
    const answer = await ask('ewma', column(values), {
      weight: String(lambda_),
      target: String(target),
      sigma: String(s),
      limits: 'fixed',
    });
    for (const [at, value] of want.ewma.entries()) near(answer.points[at]?.statistic, value, 0.0051);
    near(answer.points[0]?.upper, want.ucl, 1e-4);
    near(answer.points[0]?.lower, want.lcl, 1e-4);
    expect(signalsAt(answer)).toEqual([]);
  });

  it(titleOf('montgomery-ewma-example'), async () => {
    const { values, lambda_, L, target, sigma } = published('montgomery-ewma-example').inputs as Record<
      string,
      number
    > & { values: number[] };
    const want = published('montgomery-ewma-example').expected as Record<string, number> & { signalPeriods: number[] };
    const answer = await ask('ewma', column(values), {
      weight: String(lambda_),
      width: String(L),
      target: String(target),
      sigma: String(sigma),
    });
    near(answer.points[0]?.statistic, want.z1 ?? 0, 0.0051);
    near(answer.points[0]?.upper, want.ucl1 ?? 0, 0.0051);
    near(answer.points[1]?.upper, want.ucl2 ?? 0, 0.0051);
    near(answer.points[29]?.upper, want.uclSteady ?? 0, 0.0051);
    expect(signalsAt(answer)).toEqual(want.signalPeriods);
  });

  it(titleOf('nist-cusum-tabular'), async () => {
    const { values } = published('nist-cusum-tabular').inputs as { values: number[] };
    const want = published('nist-cusum-tabular').expected as { sHigh: number[]; sLow: number[] };
    const sigma = 0.635;
    const answer = await ask('cusum', column(values), {
      target: '325',
      sigma: String(sigma),
      slack: '0.5',
      decision: String(4.1959 / sigma),
    });
    // The page rounds each deviation to two decimals before it sums: up to 0.005 a reading.
    for (const [at, value] of want.sHigh.entries()) near(answer.points[at]?.high, value, 0.005 * (at + 1));
    for (const [at, value] of want.sLow.entries()) near(answer.points[at]?.low, value, 0.005 * (at + 1));
    near(answer.points[0]?.limit, 4.1959, 1e-12);
    expect(signalsAt(answer)[0]).toBe(14);
  });

  it.each(['strd-lew', 'strd-lottery', 'strd-michelso', 'strd-numacc1'])('summary: %s', async (id) => {
    const { values } = published(id).inputs as { values: number[] };
    const want = published(id).expected as Record<string, number>;
    const { result } = await ask('summary', column(values));
    expect(result.n).toBe(want.n);
    same(result.mean, want.mean ?? 0, 1e-12);
    same(result.sd, want.sd ?? 0, 1e-12);
    same(result.lag1, want.lag1 ?? 0, 1e-11);
    expect(result.min).toBe(Math.min(...values));
    expect(result.max).toBe(Math.max(...values));
  });

  const words: Record<string, string> = {
    'nelson-test-1': 'beyond-limits',
    'nelson-test-2': 'nine-one-side',
    'nelson-test-3': 'six-trend',
    'nelson-test-4': 'fourteen-alternating',
    'nelson-test-5': 'two-of-three',
    'nelson-test-6': 'four-of-five',
    'nelson-test-7': 'fifteen-near-centre',
    'nelson-test-8': 'eight-off-centre',
    'western-electric-rule-4': 'eight-one-side',
  };
  it.each(Object.entries(words))('rules: %s is %s', async (id, word) => {
    const { z } = published(id).inputs as { z: number[] };
    const { firstIndex0 } = published(id).expected as { firstIndex0: number };
    const answer = await ask('individuals', column(z), { target: '0', sigma: '1', rules: word });
    expect(signalsAt(answer)[0]).toBe(firstIndex0 + 1);
    expect(answer.points[firstIndex0]?.signals).toEqual([word]);
  });

  it(titleOf('nist-c-chart-wafers'), async () => {
    const { counts } = published('nist-c-chart-wafers').inputs as { counts: number[] };
    const answer = await ask('c', column(counts, 'flaws'), { limits: 'fixed' });
    expect(answer).toMatchObject({ centre: 16, sigma: 4 });
    expect(answer.points[0]).toMatchObject({ upper: 28, lower: 4, value: 16, statistic: 16 });
    expect(signalsAt(answer)).toEqual([24]);
    const exact = await ask('c', column(counts, 'flaws'));
    expect(exact.points[0]).toMatchObject({ upper: 29, lower: 5 });
    near(exact.result.dispersion_ratio, 1.578125, 1e-12);
  });

  it(titleOf('u-chart-dyedcloth'), async () => {
    const { counts, n } = published('u-chart-dyedcloth').inputs as { counts: number[]; n: number[] };
    const full = published('u-chart-dyedcloth').expected_full_precision as {
      u: number[];
      ucl: number[];
      lcl: number[];
      ubar: number;
    };
    // The size stands first: the column of counts is the first numeric one that is not the size.
    const file = csv(`rolls,flaws\n${counts.map((count, at) => `${n[at]},${count}`).join('\n')}\n`);
    const answer = await ask('u', file, { size: 'rolls', limits: 'fixed' });
    same(answer.centre, full.ubar);
    for (const [at, point] of answer.points.entries()) {
      expect(point.value).toBe(counts[at]);
      same(point.statistic, full.u[at] ?? 0);
      same(point.upper, full.ucl[at] ?? 0);
      same(point.lower, full.lcl[at] ?? 0);
    }
  });

  it(titleOf('laney-p-nist'), async () => {
    const { counts, n } = published('laney-p-nist').inputs as { counts: number[]; n: number };
    const answer = await ask('p', column(counts), { size: String(n) });
    same(answer.centre, (published('laney-p-nist').expected as { center: number }).center);
    expect(answer.points[0]).toMatchObject({ lower: 4 / 50, upper: 21 / 50 });
  });

  it(titleOf('capability-ci-formulas'), async () => {
    const want = published('capability-ci-formulas').expected as Record<string, { Cp_ci: number[]; Cpk_ci: number[] }>;
    for (const [n, row] of Object.entries(want)) {
      const { result, ...rest } = await ask('capability', undefined, {
        mean: '1',
        sd: '1',
        n,
        lower: '-3',
        upper: '3',
      });
      expect(rest.n).toBe(Number(n));
      for (const name of ['cp', 'pp']) {
        near(result[`${name}_low`], row.Cp_ci[0] ?? 0, 1e-9);
        near(result[`${name}_high`], row.Cp_ci[1] ?? 0, 1e-9);
      }
      near(result.cpk_low, row.Cpk_ci[0] ?? 0, 1e-9);
      near(result.ppk_high, row.Cpk_ci[1] ?? 0, 1e-9);
    }
  });

  it('capability of the piston rings in groups (printed by R package qcc)', async () => {
    const rows = PISTON_RINGS.flatMap((group, at) => group.map((value) => `${at + 1},${value}`));
    const file = csv(`sample,diameter\n${rows.join('\n')}\n`);
    const { result, ...rest } = await ask('capability', file, { group: 'sample', lower: '73.95', upper: '74.05' });
    expect(rest).toMatchObject({ n: 125 });
    near(result.cp, 1.703, 5e-4);
    near(result.cpk_low, 1.448, 5e-4);
    near(result.cpm_high, 1.902, 5e-4);
    const xbar = await ask('xbar-r', file, { group: 'sample' });
    near(xbar.points[0]?.lower, 73.98805, 5e-6);
    near(xbar.points[0]?.upper, 74.0143, 5e-5);
    const s = await ask('xbar-s', file, { group: 'sample' });
    near(s.sigma, 0.009829977, 5e-10);
    expect(xbar.points).toHaveLength(25);
  });

  it(titleOf('grr-aiag-anova'), async () => {
    const { data } = published('grr-aiag-average-range').inputs as { data: Record<string, number[][]> };
    const want = published('grr-aiag-anova').expected as { var: Record<string, number>; pctTolerance: { grr: number } };
    const rows = Object.entries(data).flatMap(([who, trials]) =>
      trials.flatMap((row) => row.map((value, part) => `${part + 1},${who},${value}`)),
    );
    const file = csv(`piece,who,reading\n${rows.join('\n')}\n`);
    const { result } = await ask('gauge', file, { part: 'piece', operator: 'who', lower: '-4', upper: '4' });
    near(result.repeatability, want.var.repeatability ?? 0, 6e-6);
    near(result.reproducibility, want.var.reproducibility ?? 0, 6e-6);
    near(result.part, want.var.part ?? 0, 6e-6);
    near(result.total, want.var.total ?? 0, 6e-6);
    expect(result.interaction).toBe(0);
    near(100 * (result.share_of_tolerance ?? 0), want.pctTolerance.grr, 0.005);
  });

  it(`${titleOf('mann-kendall-epa')} and ${titleOf('mann-kendall-nile')}`, async () => {
    const epa = await ask('trend', column((published('mann-kendall-epa').inputs as { values: number[] }).values));
    expect(epa.result).toMatchObject({ mann_kendall_s: 22, theil_sen: 1 });
    near(epa.result.mann_kendall_var, 155.33, 0.006);
    near(epa.result.mann_kendall_z, 1.685, 0.006);
    const nile = await ask('trend', column((published('mann-kendall-nile').inputs as { values: number[] }).values));
    const want = published('mann-kendall-nile').expected as Record<string, number>;
    same(nile.result.mann_kendall_p, want.p ?? 0, 1e-11);
    same(nile.result.theil_sen, want.sen ?? 0);
    // scipy.stats.linregress on 1..100: slope -2.714305430543054, stderr 0.5215454..., intercept 1056.4224...
    expect(nile.result.slope_low).toBeLessThan(nile.result.slope ?? 0);
  });

  it('trend against a column x: shuffled rows give the same line', async () => {
    const plain = await ask('trend', csv('x,y\n1,2\n2,4.5\n3,5\n4,8\n5,9\n'));
    const mixed = await ask('trend', csv('y,x\n8,4\n2,1\n9,5\n4.5,2\n5,3\n'));
    expect(mixed.result.slope).toBeCloseTo(plain.result.slope ?? 0, 12);
    expect(mixed.result.mann_kendall_s).toBe(plain.result.mann_kendall_s);
  });

  it(titleOf('arl-runs-c1234'), async () => {
    const { shift } = published('arl-runs-c1234').inputs as { shift: number[] };
    const want = published('arl-runs-c1234').expected_full_precision as number[];
    const { result } = await ask('runlength', undefined, {
      chart: 'zone',
      rules: 'beyond-limits,two-of-three,four-of-five,eight-one-side',
      shift: shift.join(','),
    });
    const found = result.run_length as unknown as number[];
    for (const [at, length] of want.entries()) same(found[at], length, 1e-9);
    expect(result.shift).toEqual(shift);
  });

  it(`${titleOf('arl-cusum-two-sided-h4')}; ${titleOf('arl-cusum-other-published')}`, async () => {
    const { shift } = published('arl-cusum-two-sided-h4').inputs as { shift: number[] };
    const want = published('arl-cusum-two-sided-h4').expected_full_precision as number[];
    const two = await ask('runlength', undefined, {
      chart: 'cusum',
      slack: '0.5',
      decision: '4',
      shift: shift.join(','),
    });
    for (const [at, length] of (two.result.run_length as unknown as number[]).entries())
      same(length, want[at] ?? 0, 1e-8);
    const { schemes } = published('arl-cusum-other-published').inputs as {
      schemes: { k: number; h: number; shift: number[] }[];
    };
    const others = published('arl-cusum-other-published').expected_full_precision as number[][];
    for (const [s, { k, h, shift: moves }] of schemes.entries()) {
      const one = await ask('runlength', undefined, {
        chart: 'cusum',
        slack: String(k),
        decision: String(h),
        sides: '1',
        shift: moves.join(','),
      });
      for (const [at, length] of (one.result.run_length as unknown as number[]).entries())
        same(length, others[s]?.[at] ?? 0, 1e-8);
    }
  });

  it(`${titleOf('ewma-L-for-ARL0')}; ${titleOf('cusum-h-hawkins')}: limits for an asked run length`, async () => {
    const ewma = published('ewma-L-for-ARL0').expected_full_precision as { lambda_: number[]; L_ARL250: number[] };
    for (const [at, weight] of ewma.lambda_.entries()) {
      const { result } = await ask('runlength', undefined, { chart: 'ewma', weight: String(weight), asked: '250' });
      same(result.limit, ewma.L_ARL250[at] ?? 0, 1e-8);
    }
    const hawkins = published('cusum-h-hawkins').expected_full_precision as { k: number[]; h_ARL370: number[] };
    for (const [at, slack] of hawkins.k.entries()) {
      const { result } = await ask('runlength', undefined, { chart: 'cusum', slack: String(slack), asked: '370' });
      same(result.limit, hawkins.h_ARL370[at] ?? 0, 1e-8);
    }
  });

  it('changepoint finds the step in the NIST CUSUM data at reading 13', async () => {
    const { values } = published('nist-cusum-tabular').inputs as { values: number[] };
    const { result } = await ask('changepoint', column(values));
    expect(result).toMatchObject({ since: 13, shape: 'step' });
    near(result.size, 2.7, 0.4);
    expect(result.signal_at).toBe(13);
    expect(result.threshold).toBeGreaterThan(3);
  });
});

describe('reading the file', () => {
  it('byte-order mark, CRLF, quotes, semicolons, tabs, blank lines at the end', async () => {
    const wanted = (await ask('summary', column([1, 2, 4]))).result;
    for (const text of [
      '\ufeffvalue\r\n1\r\n2\r\n4\r\n',
      '"value"\n"1"\n"2"\n"4"',
      'name;value\na;1\nb;2\nc;4\n\n\n',
      'name\tvalue\na\t1\nb\t2\nc\t 4 \n',
      'value\r1\r2\r4\r',
      'value,note\n1,"two\nlines"\n2,\n+4.0e0,x\n',
    ]) {
      expect((await ask('summary', csv(text))).result, JSON.stringify(text)).toEqual(wanted);
    }
  });

  it('a blank is a missing value and keeps its index, also alone on its line', async () => {
    for (const text of ['value\n1\n\n5\n4\n', 'a,value\nx,1\ny,\nz,5\nw,4\n', 'value,a\n1,x\n,\n5,z\n4,w\n']) {
      const answer = await ask('individuals', csv(text), { sigma: '1' });
      expect(answer.n).toBe(3);
      expect(answer.points.map(({ i, value }) => [i, value])).toEqual([
        [1, 1],
        [2, null],
        [3, 5],
        [4, 4],
      ]);
    }
  });

  it('the first numeric column unless one is named', async () => {
    const file = csv('when,along,across\n2026-01-01T10:00Z,1,10\n2026-01-01T11:00Z,2,30\n');
    expect((await ask('summary', file)).result.mean).toBe(1.5);
    expect((await ask('summary', file, { column: 'across' })).result.mean).toBe(20);
  });

  it('a non-number is refused with file, line and column', async () => {
    const file = csv('a,value\nx,1\ny,1.5\nz,0.1mm\nw,3\n');
    expect(await refusal('individuals', file)).toContain(`${file}:4: column "value": "0.1mm" is not a number`);
    expect(await refusal('individuals', csv('value\n1\n1,5\n2\n'))).toContain(':3: 2 cells, but the header has 1');
    expect(await refusal('individuals', csv('a;value\nx;1\ny;1,5\n'))).toContain('write the decimal with a point');
    for (const word of ['NaN', 'Infinity', '-inf', '0x10', '1e999', 'abc', '1 2', '--']) {
      expect(await refusal('summary', csv(`value\n1\n2\n3\n${word}\n4\n`)), word).toMatch(/:5: column "value"/);
    }
    // The line is counted past a quoted line break.
    expect(await refusal('summary', csv('note,value\n"a\nb",1\nc,2\nd,x\n'))).toMatch(/:5: /);
  });

  it('bad files', async () => {
    expect(await refusal('summary', csv(''))).toContain('empty');
    expect(await refusal('summary', csv('\n\n'))).toContain('empty');
    expect(await refusal('summary', csv('value\n'))).toContain('no row');
    expect(await refusal('summary', csv('1\n2\n3\n'))).toContain('header');
    expect(await refusal('summary', join(folder, 'absent.csv'))).toContain('no such file');
    expect(await refusal('summary', folder)).toContain('folder');
    expect(await refusal('summary', csv('name\na\nb\n'))).toMatch(/number/);
    expect(await refusal('summary', csv('a,b\nx,y\nz,w\n'))).toContain('--column');
    expect(await refusal('summary', csv('value\n"1\n2\n'))).toContain('not CSV');
    expect(await refusal('summary', csv('v,v\n1,2\n2,3\n'), { column: 'v' })).toContain('twice');
    expect(await refusal('summary', csv('value,b\n,1\n,2\n'), { column: 'value' })).toContain('no numbers');
    expect(await refusal('summary', undefined)).toContain('needs a FILE');
    expect(await refusal('summary', csv('value\n1\n2\n'), { column: 'valeu' })).toContain('did you mean "value"');
  });
});

describe('bad use', () => {
  const ten = (): string => column([1, 3, 2, 5, 4, 6, 2, 3, 4, 5]);
  it('unknown words come back with the nearest right one', async () => {
    expect(await refusal('capabilty', ten())).toContain('did you mean capability');
    expect(await refusal('xbar', ten())).toContain('xbar-r');
    expect(await refusal('individuals', ten(), { rules: 'beyond-limit' })).toContain('did you mean beyond-limits');
    expect(await refusal('individuals', ten(), { rules: 'beyond-limits,two-of-tree' })).toContain(
      'did you mean two-of-three',
    );
    expect(await refusal('ewma', ten(), { limits: 'fix' })).toContain('fixed');
    expect(await refusal('runlength', undefined, { chart: 'ewna' })).toContain('did you mean ewma');
    expect(await refusal('runlength', undefined)).toContain('--chart');
  });

  it('values outside their range', async () => {
    for (const weight of ['0', '1.01', '-0.2', 'x', ''])
      expect(await refusal('ewma', ten(), { weight })).toContain('--weight');
    expect((await ask('ewma', ten(), { weight: '1' })).n).toBe(10);
    expect(await refusal('individuals', ten(), { sigma: '0' })).toContain('--sigma');
    expect(await refusal('individuals', ten(), { width: '-3' })).toContain('--width');
    expect(await refusal('cusum', ten(), { slack: '-1' })).toContain('--slack');
    expect(await refusal('cusum', ten(), { decision: '0' })).toContain('--decision');
    expect(await refusal('cusum', ten(), { headStart: '9' })).toContain('head start');
    expect(await refusal('cusum', ten(), { sides: '3' })).toContain('1 or 2');
    expect(await refusal('capability', ten(), { lower: '5', upper: '1' })).toContain('upside down');
    expect(await refusal('capability', ten(), { lower: '5', upper: '5' })).toContain('upside down');
    expect(await refusal('capability', ten())).toContain('--lower');
    expect(await refusal('capability', undefined, { mean: '1', sd: '1', upper: '3' })).toContain('go together');
    expect(await refusal('capability', undefined, { mean: '1', sd: '0', n: '9', upper: '3' })).toContain('--sd');
    expect(await refusal('capability', undefined, { mean: '1', sd: '1', n: '1', upper: '3' })).toContain('--n');
    expect(await refusal('capability', ten(), { mean: '1', sd: '1', n: '9', upper: '3' })).toContain('not both');
    expect(await refusal('runlength', undefined, { chart: 'ewma', shift: '0,a' })).toContain('--shift');
    expect(await refusal('runlength', undefined, { chart: 'ewma', asked: '1' })).toContain('--asked');
  });

  it('too few values', async () => {
    for (const method of ['individuals', 'ewma', 'cusum', 'changepoint', 'summary', 'trend', 'c']) {
      await refusal(method, column([3]));
    }
    await refusal('trend', column([3, 4]));
    await refusal('u', column([3]), { size: '5' });
    await refusal('p', column([3]), { size: '5' });
    await refusal('capability', column([3]), { upper: '9' });
    await refusal('xbar-r', csv('g,value\na,1\nb,2\n'), { group: 'g' });
    await refusal('gauge', csv('part,operator,value\n1,A,1\n'));
  });

  it('zero scatter', async () => {
    const flat = column([2, 2, 2, 2, 2, 2, 2, 2]);
    for (const method of ['individuals', 'ewma', 'cusum', 'changepoint', 'trend']) {
      expect(await refusal(method, flat), method).toMatch(/scatter/);
    }
    expect(await refusal('capability', flat, { lower: '1', upper: '3' })).toMatch(/scatter/);
    expect(await refusal('c', column([0, 0, 0]))).toMatch(/scatter/);
    const groups = csv('g,value\na,1\na,1\nb,1\nb,1\n');
    for (const method of ['xbar-r', 'xbar-s']) expect(await refusal(method, groups, { group: 'g' })).toMatch(/scatter/);
    const study = ['A', 'B'].flatMap((who) =>
      ['1', '2'].flatMap((part) => [1, 1].map((value) => `${part},${who},${value}`)),
    );
    expect(await refusal('gauge', csv(`part,operator,value\n${study.join('\n')}\n`))).toMatch(/scatter/);
  });

  it('groups', async () => {
    expect(await refusal('xbar-r', ten())).toContain('--group');
    expect(await refusal('xbar-r', csv('g,value\na,1\na,2\nb,3\n'), { group: 'g' })).toContain(
      'unequal groups: g "b" has 1 readings, "a" has 2',
    );
    expect(await refusal('xbar-s', csv('g,value\na,1\na,2\nb,3\nb,\n'), { group: 'g' })).toContain('unequal groups');
    expect(await refusal('xbar-s', csv('g,value\na,1\na,2\n,3\nb,1\n'), { group: 'g' })).toContain('without a "g"');
    expect(await refusal('individuals', ten(), { group: 'value' })).toContain('xbar-r');
    expect(await refusal('xbar-r', ten(), { group: 'grp' })).toContain('no column "grp"');
  });

  it('counts', async () => {
    const file = csv('flaws,size\n3,10\n2.5,10\n4,10\n');
    expect(await refusal('c', file)).toContain(`${file}:3: a count must be a whole number`);
    expect(await refusal('c', column([3, -2]))).toContain('-2');
    expect(await refusal('u', column([3, 4]))).toContain('--size');
    expect(await refusal('u', csv('flaws,labels\n3,10\n4,0\n'), { size: 'labels' })).toContain(':3: the size');
    expect(await refusal('u', csv('flaws,labels\n3,10\n4,\n'), { size: 'labels' })).toContain('without the size');
    expect(await refusal('u', csv('flaws,labels\n3,10\n4,5\n'), { size: 'lables' })).toContain('did you mean "labels"');
    expect(await refusal('p', csv('bad,n\n3,10\n14,12\n'), { size: 'n' })).toContain('14 bad items out of 12');
    expect(await refusal('c', column([3, 4]), { size: '5' })).toContain('use u or p');
  });
});

describe('what is said', () => {
  it('a process that is not steady: exit 1, pp and ppk only, in words on both sides', async () => {
    const values = Array.from({ length: 30 }, (_, at) => (at % 3) + (at >= 15 ? 6 : 0));
    const answer = await ask('capability', column(values), { lower: '-5', upper: '15' }, 1);
    expect(answer.result).toMatchObject({ cp: null, cpk: null, cpk_low: null, cpm: null, steady: false });
    expect(answer.result.pp).toBeGreaterThan(0);
    expect(answer.result.ppk_high).toBeGreaterThan(answer.result.ppk ?? 0);
    expect(String(answer.result.refusal)).toContain('not steady');
    const { err, out, code } = await run('capability', column(values), { lower: '-5', upper: '15' });
    expect(code).toBe(1);
    expect(err).toContain('not steady');
    expect(out).toContain('ppk');
  });

  it('a loupe too coarse for the tolerance is said beside the indices', async () => {
    const values = [0, 0.05, 0, -0.05, 0, 0, 0.05, 0, -0.05, 0.05, 0, 0, -0.05, 0, 0.05, 0];
    const coarse = await ask('capability', column(values), { lower: '-0.06', upper: '0.06' });
    expect(coarse.result.reading_step).toMatchObject({ step: 0.05, verdict: 'too coarse' });
    const fine = await ask('capability', column(values), { lower: '-2', upper: '2' });
    expect(fine.result.reading_step).toMatchObject({ step: 0.05, verdict: 'coarse' });
    const exact = await ask('capability', column([1.234, 1.301, 1.277, 1.295, 1.25]), { upper: '2' });
    expect(exact.result.reading_step).toBeNull();
  });

  it('one-sided tolerance', async () => {
    const { result } = await ask('capability', undefined, { mean: '10', sd: '1', n: '30', upper: '14' });
    expect(result).toMatchObject({ cp: null, pp: null, cpm: null });
    near(result.cpk, 4 / 3, 1e-12);
  });

  it('an option a method does not listen to is said on stderr, not silently dropped', async () => {
    const { code, err } = await run('cusum', column([1, 3, 2, 4]), { weight: '0.2' });
    expect(code).toBe(0);
    expect(err).toContain('cusum takes no --weight');
  });

  it.each(['individuals', 'ewma', 'cusum', 'changepoint', 'c', 'trend', 'summary'])(
    '%s in text: a chart in plain characters, no line above 90',
    async (method) => {
      const { values } = published('nist-imr-flowrate').inputs as { values: number[] };
      const { out, code } = await run(
        method,
        column(values.map((value) => (method === 'c' ? Math.round(value) : value))),
      );
      expect(code).toBe(0);
      expect(out).toMatch(/\|.*o/);
      expect(out).toMatch(/^[\x20-\x7e\n]*$/);
      for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(90);
    },
  );

  it('individuals in text, whole', async () => {
    const { out } = await run('individuals', column([5, 4, 6, 5, 5, 4, 6, 5, 14, 5]), {
      sigma: '1',
      target: '5',
      width: '3',
    });
    expect(out).toBe(
      [
        'individuals   n 10   centre 5   sigma 1',
        'width 3   rules beyond-limits',
        '',
        '14 |        X',
        '   |',
        '   |',
        '   |',
        '   |',
        '   |',
        '   |----------',
        '   |',
        '   |  o   o',
        ' 5 |o..oo..o.o',
        '   | o   o',
        '   |',
        ' 2 |----------',
        '',
        'signals',
        '     9  14  beyond-limits',
        '',
        'moving_range_mean     2.88889',
        'moving_range_centre   1.12838',
        'moving_range_upper    3.68589',
        'moving_ranges         1, 2, 1, 0, 1, 2, 1, 9, 9',
        'moving_range_signals  9, 10',
        '',
      ].join('\n'),
    );
  });

  it('the command takes every option of the contract and negative values', async () => {
    const command = statsCommand();
    const flags = command.options.map(({ long }) => long);
    const wanted =
      '--column --group --target --sigma --weight --width --slack --decision --head-start --sides --rules --size --limits --lower --upper --part --operator --mean --sd --n --chart --shift --drift --asked --json --data';
    expect(flags).toEqual(wanted.split(' '));
    const written: string[] = [];
    const write = process.stdout.write;
    process.stdout.write = (text) => written.push(String(text)) > 0;
    const before = process.exitCode;
    try {
      await command.parseAsync(
        ['capability', '--mean', '-1', '--sd', '1', '--n', '9', '--lower', '-4', '--upper', '4', '--json'],
        { from: 'user' },
      );
      expect(process.exitCode).toBe(0);
    } finally {
      process.stdout.write = write;
      process.exitCode = before;
    }
    expect(JSON.parse(written.join('')).result.cpk).toBe(1);
  });
});
