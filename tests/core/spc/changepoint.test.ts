import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitChange } from '../../../src/core/spc/changepoint-fit.js';
import {
  type ChangepointConfig,
  changepoint,
  changepointChart,
  changepointRunLengthFormula,
  changepointThreshold,
  runMethod,
  seededNumbers,
  simulatedRunLength,
} from '../../../src/core/spc/index.js';
import { overshoot } from '../../../src/core/spc/run-length-changepoint.js';

const SHAPES = ['step', 'ramp'] as const;

/** Sum of squares a change explains, by plain least squares on every column, without the running sums. */
const bySquares = (
  values: readonly number[],
  aimKnown: boolean,
): { explained: number; length: number; shape: string } => {
  const n = values.length;
  let best = { explained: -1, length: 0, shape: '' };
  for (let length = 1; length <= (aimKnown ? n : n - 2); length += 1) {
    for (const shape of SHAPES) {
      if (shape === 'ramp' && length === 1) continue;
      const column = values
        .map((_, i) => Math.max(0, i - (n - length) + 1))
        .map((k) => (shape === 'step' ? Math.min(k, 1) : k));
      const middle = (numbers: readonly number[]): number => (aimKnown ? 0 : numbers.reduce((a, b) => a + b, 0) / n);
      const [mx, my] = [middle(column), middle(values)];
      const sxy = column.reduce((sum, x, i) => sum + (x - mx) * ((values[i] ?? 0) - my), 0);
      const sxx = column.reduce((sum, x) => sum + (x - mx) ** 2, 0);
      const explained = (sxy * sxy) / sxx;
      if (explained > best.explained * (1 + 1e-12)) best = { explained, length, shape };
    }
  }
  return best;
};

describe('the best change', () => {
  it.each([true, false])('agrees with plain least squares over every place and shape (aim known: %s)', (aimKnown) => {
    const value = fc.integer({ min: -400, max: 400 }).map((k) => k / 100);
    fc.assert(
      fc.property(fc.array(value, { minLength: 3, maxLength: 25 }), (values) => {
        const want = bySquares(values, aimKnown);
        const got = fitChange(values, { n: 0, sum: 0 }, aimKnown, SHAPES);
        expect(got?.explained).toBeCloseTo(want.explained, 8);
      }),
    );
  });
  it('older readings count as before the change without being kept', () => {
    const values = [1, 2, 1, 2, 1, 5, 6, 5, 6];
    const whole = fitChange(values, { n: 0, sum: 0 }, false, ['step']);
    const kept = fitChange(values.slice(3), { n: 3, sum: 4 }, false, ['step']);
    expect(kept?.explained).toBeCloseTo(whole?.explained ?? 0, 10);
    expect(kept).toMatchObject({ shape: 'step', length: 4 });
  });
  it('aim 0, sigma 1, readings 0 0 0 2 2 2: statistic 2 root 3, a step of 2 since three readings', () => {
    const last = runMethod(changepoint, { aim: 0, sigma: 1, threshold: 4 }, [0, 0, 0, 2, 2, 2]).steps.at(-1)?.point;
    expect(last).toEqual({ statistic: 2 * Math.sqrt(3), upper: 4, length: 3, shape: 'step', size: 2, slope: null });
  });
  it('a clean ramp of 0.5 a reading since the 5th', () => {
    const last = runMethod(changepoint, { aim: 0, sigma: 1, threshold: 4 }, [0, 0, 0, 0, 0.5, 1, 1.5, 2]).steps.at(
      -1,
    )?.point;
    expect(last).toMatchObject({ length: 4, shape: 'ramp', size: 2, slope: 0.5 });
  });
  it('says nothing until it can: three readings without aim and scatter, one with both', () => {
    const statistics = (config: ChangepointConfig): (number | null)[] =>
      runMethod(changepoint, config, [1, 1.5, 1.2, 1.4]).steps.map((step) => step.point.statistic);
    expect(statistics({ threshold: 3 }).map((z) => z === null)).toEqual([true, true, false, false]);
    expect(statistics({ threshold: 3, aim: 1, sigma: 1 }).map((z) => z === null)).toEqual([false, false, false, false]);
    expect(statistics({ threshold: 3, aim: 1, prior: { sigma: 1, worth: 2 } }).every((z) => z !== null)).toBe(true);
  });
});

describe('thresholds and run lengths', () => {
  it('the overshoot correction agrees with its series (mpmath 1.3)', () => {
    const series = [
      [0.25, 0.864507488966],
      [0.5, 0.747615010332],
      [1, 0.56037022842],
      [2, 0.320434641812],
      [4, 0.119137668931],
    ] as const;
    for (const [x, nu] of series) expect(Math.abs(overshoot(x) - nu)).toBeLessThan(1e-5);
  });
  it('Siegmund and Venkatraman (1995): the formula for steps agrees with simulation within 3 % at 3 and 3.4 (seed 31)', () => {
    for (const threshold of [3, 3.4]) {
      const { mean, standardError } = simulatedRunLength({ threshold, shapes: ['step'], runs: 6000, seed: 31 });
      const formula = changepointRunLengthFormula(threshold, 60);
      console.log(
        `threshold ${threshold}: formula ${formula.toFixed(1)}, simulated ${mean.toFixed(1)}, s.e. ${standardError.toFixed(1)}`,
      );
      expect(Math.abs(formula - mean)).toBeLessThan(3 * standardError + 0.02 * formula);
    }
  });
  it.each([
    [100, ['step', 'ramp'] as const],
    [370, ['step', 'ramp'] as const],
    [370, ['step'] as const],
    [370, ['ramp'] as const],
    [1500, ['step', 'ramp'] as const],
  ])('asked %d readings with %j: simulated with fresh numbers (seed 32)', (asked, shapes) => {
    const threshold = changepointThreshold(asked, { shapes });
    const runs = Math.round(1_500_000 / asked);
    const { mean, standardError } = simulatedRunLength({ threshold, shapes, runs, seed: 32 });
    console.log(
      `asked ${asked}: threshold ${threshold.toFixed(3)}, simulated ${mean.toFixed(1)}, s.e. ${standardError.toFixed(1)}`,
    );
    expect(Math.abs(mean - asked)).toBeLessThan(3 * standardError + 0.03 * asked);
  });
  const unknown: readonly [string, Omit<ChangepointConfig, 'threshold'>, number, number][] = [
    ['nothing known', {}, 0.7, 1.5],
    ['scatter unknown', { aim: 0 }, 0.7, 1.5],
    ['aim unknown', { sigma: 1 }, 0.7, 1.5],
    ['prior scatter worth 10, drawn from it', { aim: 0, prior: { sigma: 1, worth: 10 } }, 0.7, 1.5],
  ];
  it.each(unknown)(
    '%s: the same threshold keeps one in 200 within a factor 1.5 (seed 33)',
    (name, config, least, most) => {
      const { normal } = seededNumbers(33);
      const threshold = changepointThreshold(200);
      let sum = 0;
      let squares = 0;
      const runs = 400;
      for (let run = 0; run < runs; run += 1) {
        let sigma = 1;
        if (config.prior !== undefined)
          sigma = Math.sqrt(10 / Array.from({ length: 10 }, () => normal() ** 2).reduce((a, b) => a + b, 0));
        let state = changepoint.initial({ ...config, threshold });
        let t = 0;
        for (let going = true; going && t < 20_000; t += 1) {
          const step = changepoint.step({ ...config, threshold }, state, sigma * normal());
          state = step.state;
          going = step.signal === null;
        }
        sum += t;
        squares += t * t;
      }
      const mean = sum / runs;
      const error = Math.sqrt((squares / runs - mean * mean) / runs);
      console.log(`${name}: asked 200, simulated ${mean.toFixed(1)}, s.e. ${error.toFixed(1)}`);
      expect(mean / 200).toBeGreaterThan(least);
      expect(mean / 200).toBeLessThan(most);
    },
  );
});

describe('changepoint chart of a column', () => {
  it('tells steps from ramps, and when they began (200 columns each, seed 34)', () => {
    const { normal } = seededNumbers(34);
    const told = { step: 0, ramp: 0, since: [] as number[], size: [] as number[] };
    for (let i = 0; i < 200; i += 1) {
      const step = changepointChart(
        {},
        Array.from({ length: 50 }, (_, k) => 10 + 0.1 * normal() + (k >= 30 ? 0.2 : 0)),
      );
      const ramp = changepointChart(
        {},
        Array.from({ length: 50 }, (_, k) => 10 + 0.1 * normal() + Math.max(0, k - 29) * 0.03),
      );
      if (!step.ok || !ramp.ok) throw new Error('no chart');
      if (step.value.result.shape === 'step') told.step += 1;
      if (ramp.value.result.shape === 'ramp') told.ramp += 1;
      told.since.push(Number(step.value.result.since));
      told.size.push(Number(step.value.result.size));
    }
    const middle = (numbers: number[]): number => [...numbers].sort((a, b) => a - b)[100] ?? Number.NaN;
    console.log(
      `steps told ${told.step}/200, ramps ${told.ramp}/200, median since ${middle(told.since)}, size ${middle(told.size)}`,
    );
    expect(told.step).toBeGreaterThan(170);
    expect(told.ramp).toBeGreaterThan(170);
    expect(middle(told.since)).toBe(31);
    expect(Math.abs(middle(told.size) - 0.2)).toBeLessThan(0.02);
  });
  it('keeps the places of missing readings', () => {
    const chart = changepointChart({ target: 0, sigma: 1 }, [0, null, 0, 0, 4, null, 4, 4]);
    if (!chart.ok) throw new Error(chart.problem.message);
    expect(chart.value.result).toMatchObject({ since: 5, shape: 'step', size: 4, signal_at: 5 });
    expect(chart.value.points[1]?.value).toBeNull();
  });
  it('refuses in words', () => {
    const refusal = (config: Parameters<typeof changepointChart>[0], values: readonly (number | null)[]): string => {
      const found = changepointChart(config, values);
      return found.ok ? '' : found.problem.message;
    };
    expect(refusal({}, [2, 2, 2, 2])).toBe('the readings do not scatter; give sigma');
    expect(refusal({}, [])).toBe('there are no readings to chart');
    expect(refusal({}, [1])).toContain('needs at least');
    expect(refusal({ asked: 1 }, [1, 2, 3])).toContain('asked run length');
    expect(refusal({}, [1, Number.NaN, 3])).toContain('reading 2 is NaN');
  });
});
