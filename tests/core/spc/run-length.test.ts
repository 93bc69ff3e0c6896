import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/core/result.js';
import {
  cusumRunLength,
  ewmaRunLength,
  type RunLengthOptions,
  runLength,
  seededNumbers,
  zoneRunLength,
} from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
};
const lengths = (options: RunLengthOptions): readonly number[] => must(runLength(options)).run_length;
const limit = (options: RunLengthOptions): number => must(runLength(options)).limit;

const near = (got: readonly number[], want: readonly number[], relative: number, absolute = 0): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, i) => {
    expect(Math.abs((got[i] ?? Number.NaN) - value), `place ${i + 1}: ${got[i]} for ${value}`).toBeLessThanOrEqual(
      relative * Math.abs(value) + absolute,
    );
  });
};
/** Half a unit of the last digit as printed (and a hair for numbers stored in binary). */
const halfUnit = (printed: number): number => {
  const digits = `${printed}`.split('.')[1]?.length ?? 0;
  return 0.5 * 10 ** -digits * 1.02;
};
const printedDigits = (got: readonly number[], want: readonly number[], units = 1): void => {
  want.forEach((value, i) => {
    expect(Math.abs((got[i] ?? Number.NaN) - value), `place ${i + 1}: ${got[i]} for ${value}`).toBeLessThanOrEqual(
      units * halfUnit(value),
    );
  });
};

describe('plain chart and zone rules: Markov chain', () => {
  it(titleOf('arl-shewhart-3sigma'), () => {
    const one = published('arl-shewhart-3sigma');
    const { shift, limit: width } = one.inputs as { shift: number[]; limit: number };
    const got = lengths({ chart: 'individuals', shift, width });
    near(got, one.expected_full_precision as number[], 1e-12);
    near(got, one.expected as number[], 0, 0.0051);
  });
  it.each(['12', '13', '14', '123', '134', '1234'])('Champ and Woodall column C%s', (column) => {
    const id = `arl-runs-c${column}`;
    const words = { 1: 'beyond-limits', 2: 'two-of-three', 3: 'four-of-five', 4: 'eight-one-side' } as const;
    const rules = [...column].map((digit) => words[Number(digit) as 1 | 2 | 3 | 4]);
    const { shift } = published(id).inputs as { shift: number[] };
    const got = lengths({ chart: 'zone', shift, rules });
    near(got, published(id).expected_full_precision as number[], 1e-10);
    near(got, published(id).expected as number[], 0, 0.0051);
  });
  it(`${titleOf('arl-drift-runs-aerne1991')}: zones at thirds of each limit`, () => {
    const one = published('arl-drift-runs-aerne1991');
    const { slope } = one.inputs as { slope: number[] };
    const schemes = [
      { rules: ['beyond-limits' as const], width: 3.069 },
      { rules: ['beyond-limits' as const, 'two-of-three' as const], width: 3.2241 },
      { rules: ['beyond-limits' as const, 'four-of-five' as const], width: 3.42 },
      { rules: ['beyond-limits' as const, { need: 10, of: 10, from: 1 as const }], width: 3.2425 },
    ];
    const got = slope.map((drift) => schemes.map((scheme) => zoneRunLength({ ...scheme, drift }) ?? Number.NaN));
    got.forEach((row, i) => {
      near(row, (one.expected_full_precision as number[][])[i] ?? [], 1e-7);
      near(row, (one.expected as number[][])[i] ?? [], 0, 0.03);
    });
  });
});

describe('CUSUM: integral equation', () => {
  it(`${titleOf('nist-cusum-arl-onesided')}: 336 is printed for 335.37`, () => {
    const one = published('nist-cusum-arl-onesided');
    const full = one.expected_full_precision as Record<string, number[]>;
    for (const decision of [4, 5]) {
      const got = lengths({ chart: 'cusum', slack: 0.5, decision, sides: 1, shift: [0, 1] });
      near(got, full[`h${decision}`] ?? [], 1e-10);
      near(got, (one.expected as Record<string, number[]>)[`h${decision}`] ?? [], 0.0025);
    }
  });
  it(titleOf('arl-cusum-two-sided-h4'), () => {
    const one = published('arl-cusum-two-sided-h4');
    const { shift } = one.inputs as { shift: number[] };
    const got = lengths({ chart: 'cusum', slack: 0.5, decision: 4, shift });
    near(got, one.expected_full_precision as number[], 1e-10);
    printedDigits(got, one.expected as number[]);
  });
  it(`${titleOf('arl-cusum-other-published')}: 117.59 of Brook and Evans is their approximation to 117.5957, 117.4 of Waldmann likewise`, () => {
    const one = published('arl-cusum-other-published');
    const { schemes } = one.inputs as { schemes: { k: number; h: number; shift: number[] }[] };
    schemes.forEach(({ k, h, shift }, i) => {
      const got = lengths({ chart: 'cusum', slack: k, decision: h, sides: 1, shift });
      near(got, (one.expected_full_precision as number[][])[i] ?? [], 1e-10);
      near(got, (one.expected as number[][])[i] ?? [], i === 2 ? 2e-3 : 1e-3);
    });
  });
  it(`${titleOf('arl-cusum-single-11digits')}: the quoted digits beyond the 6th decimal are not reproduced`, () => {
    const [oneSided = 0, headStart = 0, twoSided = 0] = published('arl-cusum-single-11digits').expected as number[];
    const scheme = { slack: 0.25, decision: 8, shift: 2.5 };
    expect(Math.abs(cusumRunLength({ ...scheme, sides: 1 }) - oneSided)).toBeLessThan(2e-6);
    expect(Math.abs(cusumRunLength({ ...scheme, sides: 1, headStart: 0.1 }) - headStart)).toBeLessThan(2e-6);
    expect(Math.abs(cusumRunLength(scheme) - twoSided)).toBeLessThan(2e-6);
  });
  it(`${titleOf('cusum-h-hawkins')}: 1.61 is printed for 1.604`, () => {
    const one = published('cusum-h-hawkins');
    const full = one.expected_full_precision as { k: number[]; h_ARL370: number[]; h_ARL500: number[] };
    near(
      full.k.map((slack) => limit({ chart: 'cusum', slack, asked: 370 })),
      full.h_ARL370,
      1e-8,
    );
    near(
      full.k.map((slack) => limit({ chart: 'cusum', slack, asked: 500 })),
      full.h_ARL500,
      1e-8,
    );
    const { k } = one.inputs as { k: number[] };
    near(
      k.map((slack) => limit({ chart: 'cusum', slack, asked: 370 })),
      one.expected as number[],
      0,
      0.011,
    );
  });
  it(`${titleOf('arl-drift-cusum-gan1992')}: slope .005 is printed 76.3, computed 77.17`, () => {
    const one = published('arl-drift-cusum-gan1992');
    const { slope } = one.inputs as { slope: number[] };
    const got = slope.map((drift) => cusumRunLength({ slack: 0.25, decision: 8, sides: 1, drift, shift: -drift }));
    near(got, one.expected_full_precision as number[], 1e-7);
    const printed = one.expected as number[];
    slope.forEach((drift, i) => {
      if (drift === 0.005) expect(Math.abs((got[i] ?? 0) - 77.17)).toBeLessThan(0.005);
      else printedDigits([got[i] ?? 0], [printed[i] ?? 0]);
    });
  });
});

describe('CUSUM on two sides where the shortcut for one side does not hold (simulation, seed 5)', () => {
  const simulate = (slack: number, decision: number, headStart: number, shift: number, drift: number, runs: number) => {
    const { normal } = seededNumbers(5);
    let sum = 0;
    let squares = 0;
    for (let run = 0; run < runs; run += 1) {
      let high = headStart;
      let low = headStart;
      let t = 0;
      while (high <= decision && low <= decision) {
        t += 1;
        const x = normal() + shift + drift * t;
        high = Math.max(0, high + x - slack);
        low = Math.max(0, low - x - slack);
      }
      sum += t;
      squares += t * t;
    }
    const mean = sum / runs;
    return { mean, error: Math.sqrt((squares / runs - mean * mean) / runs) };
  };
  const cases: readonly (readonly [number, number, number, number, number])[] = [
    [0.5, 4, 2, 0, 0],
    [0.5, 4, 3.5, 0, 0],
    [0.25, 4, 3.9, 0.5, 0],
    [0.1, 3, 2.5, -0.3, 0],
    [0, 3, 2, 0.1, 0],
    [0.5, 4, 0, 0, 0.05],
    [0.5, 4, 2, 0, 0.02],
    [0.25, 5, 1, 0.1, -0.02],
    [0.1, 4, 3.5, 0, 0.05],
    [0.5, 4, 3.5, 0, -0.02],
    [0, 4, 3, 0, 0.1],
  ];
  it.each(cases)(
    'slack %d, decision %d, head start %d, shift %d, drift %d',
    (slack, decision, headStart, shift, drift) => {
      const { mean, error } = simulate(slack, decision, headStart, shift, drift, 20_000);
      const got = cusumRunLength({ slack, decision, headStart, shift, drift });
      console.log(`computed ${got.toFixed(4)}, simulated ${mean.toFixed(4)}, s.e. ${error.toFixed(4)}`);
      expect(Math.abs(got - mean)).toBeLessThan(4 * error);
    },
  );
});

describe('EWMA: integral equation', () => {
  const tables: readonly [string, number][] = [
    ['arl-ewma-l0.25-L2.998', 2],
    ['arl-ewma-l0.2-L2.962', 2],
    ['arl-ewma-l0.1-L2.814', 2],
    ['arl-ewma-ls-l0.5', 1],
    ['arl-ewma-ls-l0.03', 1],
  ];
  it.each(tables)('%s', (id, units) => {
    const one = published(id);
    const { lambda_, L, shift } = one.inputs as { lambda_: number; L: number; shift: number[] };
    const got = lengths({ chart: 'ewma', weight: lambda_, width: L, shift });
    near(got, one.expected_full_precision as number[], 1e-9);
    printedDigits(got, one.expected as number[], units);
  });
  it(titleOf('ewma-L-for-ARL0'), () => {
    const one = published('ewma-L-for-ARL0');
    const { lambda_ } = one.inputs as { lambda_: number[] };
    near(
      lambda_.map((weight) => limit({ chart: 'ewma', weight, asked: 250 })),
      one.expected as number[],
      0,
      0.0051,
    );
    const full = one.expected_full_precision as Record<'lambda_' | 'L_ARL370_4' | 'L_ARL500' | 'L_ARL250', number[]>;
    const designed = (asked: number): number[] => full.lambda_.map((weight) => limit({ chart: 'ewma', weight, asked }));
    near(designed(250), full.L_ARL250, 1e-8);
    near(designed(500), full.L_ARL500, 1e-8);
    near(designed(370.4), full.L_ARL370_4, 1e-6);
  });
  it(`${titleOf('arl-ewma-time-varying-limits')}`, () => {
    const one = published('arl-ewma-time-varying-limits');
    const { shift, schemes } = one.inputs as { shift: number[]; schemes: string[] };
    for (const name of schemes) {
      const [weight = 0, width = 0] = name.replace('l', '').split('_L').map(Number);
      const want = (one.expected as Record<string, number[]>)[name] ?? [];
      near(lengths({ chart: 'ewma', weight, width, limits: 'exact', shift }), want, 1e-6, 1e-3);
    }
  });
  it('Steiner (1999) Table 2, weight .05, width 3, fixed and time-exact limits (quoted in documentation of R spc; its Markov chain gives 135 for 133.6 and 9.0 for 9.24, so 1.2 and 3 %)', () => {
    const shift = [0, 0.25, 0.5, 0.75, 1, 1.5, 2];
    const scheme = { chart: 'ewma', weight: 0.05, width: 3, shift } as const;
    near(lengths(scheme), [1379, 135, 37.4, 20, 13.5, 8.3, 6], 0.012);
    const exact = lengths({ ...scheme, limits: 'exact' });
    near(exact, [1353, 127, 32.5, 15.6, 9, 4.5, 2.8], 0.03, 0.051);
  });
  it(`${titleOf('arl-drift-ewma-gan1991')}: half widths printed to 3 decimals, so 1 %`, () => {
    const one = published('arl-drift-ewma-gan1991');
    const { lambda_, half_width_sigma_x, slope } = one.inputs as Record<
      'lambda_' | 'half_width_sigma_x' | 'slope',
      number[]
    >;
    slope.forEach((drift, i) => {
      const got = lambda_.map((weight, j) =>
        ewmaRunLength({
          weight,
          width: (half_width_sigma_x[j] ?? 0) / Math.sqrt(weight / (2 - weight)),
          drift,
          shift: -drift,
        }),
      );
      near(got, (one.expected_full_precision as number[][])[i] ?? [], 1e-6);
      near(got, (one.expected as number[][])[i] ?? [], 0.01, 0.05);
    });
  });
});

describe(titleOf('arl-drift-slope-table'), () => {
  const one = published('arl-drift-slope-table');
  const { slope, slope_cusum } = one.inputs as { slope: number[]; slope_cusum: number[] };
  const { cusum_two_sided_montecarlo: simulated, ...exact } = one.expected as Record<string, number[]> & {
    cusum_two_sided_montecarlo: Record<string, { mean: number; se: number }>;
  };
  const scheme = (name: string): RunLengthOptions => {
    const second = { runs12: 'two-of-three', runs13: 'four-of-five', runs14: 'eight-one-side' } as const;
    if (name in second) return { chart: 'zone', rules: ['beyond-limits', second[name as keyof typeof second]] };
    if (name === 'shewhart3') return { chart: 'individuals' };
    const ewma = /^ewma_l(.+)_L(.+)$/.exec(name);
    if (ewma !== null) return { chart: 'ewma', weight: Number(ewma[1]), width: Number(ewma[2]) };
    const slack = name.includes('k025') ? 0.25 : 0.5;
    return { chart: 'cusum', sides: 1, slack, decision: Number(name.at(-1)) };
  };
  it.each(Object.keys(exact))('%s', (name) => {
    const drift = name.startsWith('cusum') ? slope_cusum : slope;
    near(lengths({ ...scheme(name), drift }), exact[name] ?? [], 1e-6);
  });
  it.each(Object.keys(simulated))('two-sided CUSUM k|h|slope %s, against the simulation of the case', (key) => {
    const [slack = 0, decision = 0, drift = 0] = key.split('|').map(Number);
    const { mean, se } = simulated[key] ?? { mean: Number.NaN, se: 0 };
    const got = cusumRunLength({ slack, decision, drift });
    console.log(`${key}: computed ${got.toFixed(4)}, case ${mean.toFixed(4)}, s.e. ${se.toFixed(4)}`);
    expect(Math.abs(got - mean)).toBeLessThan(4 * se);
  });
});

describe('what cannot be answered is said', () => {
  const refusal = (options: RunLengthOptions): string => {
    const found = runLength(options);
    return found.ok ? '' : found.problem.message;
  };
  it('in words', () => {
    expect(refusal({ chart: 'ewma', weight: 1.5 })).toBe('the weight must lie above 0 and at most 1, got 1.5');
    expect(refusal({ chart: 'ewma', shift: [0], drift: [1] })).toBe('give shifts or drifts, not both');
    expect(refusal({ chart: 'zone', rules: ['six-trend'], drift: [0.1] })).toContain('is not computed');
    expect(refusal({ chart: 'zone', rules: ['eight-one-side'], asked: 5000 })).toContain('no limit of this chart');
    expect(refusal({ chart: 'cusum', decision: 4, headStart: 4 })).toContain('head start');
    expect(refusal({ chart: 'individuals', asked: 0.5 })).toBe('the asked run length must be above 1, got 0.5');
  });
});
