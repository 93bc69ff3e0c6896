import { describe, expect, it } from 'vitest';
import {
  runMethod,
  type SelfStartingConfig,
  seededNumbers,
  selfStarting,
  selfStartingCusum,
} from '../../../src/core/spc/index.js';
import { published, titleOf } from './published.js';

describe('self-starting scores and their CUSUM', () => {
  it.each(['q-chart-flowrate', 'q-chart-viscosity'])('%s', (id) => {
    const { values, k, h } = published(id).inputs as { values: number[]; k: number; h: number };
    const want = published(id).expected as {
      Q: (number | null)[];
      cusumHigh: (number | null)[];
      cusumLow: (number | null)[];
      signalIndex0: number[];
    };
    const { steps } = runMethod(selfStartingCusum, { slack: k, decision: h }, values);
    steps.forEach(({ point }, i) => {
      const [score, high, low] = [want.Q[i] ?? null, want.cusumHigh[i] ?? null, want.cusumLow[i] ?? null];
      if (score === null) {
        expect(point.statistic, titleOf(id)).toBeNull();
        expect(point.sums).toBeNull();
        return;
      }
      expect(Math.abs((point.statistic ?? Number.NaN) - score), `score ${i + 1} of ${titleOf(id)}`).toBeLessThan(1e-9);
      expect(Math.abs((point.sums?.high ?? Number.NaN) - (high ?? 0))).toBeLessThan(1e-9);
      expect(Math.abs((point.sums?.low ?? Number.NaN) - (low ?? 0))).toBeLessThan(1e-9);
    });
    expect(steps.flatMap((step, i) => (step.signal === null ? [] : [i]))).toEqual(want.signalIndex0);
  });
});

describe('in control the scores are standard normal and uncorrelated (simulation, seed 20, 4000 streams)', () => {
  const STREAMS = 4000;
  const LENGTH = 12;
  const cases: readonly [string, SelfStartingConfig, number, boolean][] = [
    ['nothing known: from the third reading', {}, 2, false],
    ['aim known: from the second', { aim: 5 }, 1, false],
    ['scatter known: from the second', { sigma: 2 }, 1, false],
    ['aim and scatter known: from the first', { aim: 5, sigma: 2 }, 0, false],
    ['prior worth 10, scatter drawn from it: from the second', { prior: { sigma: 2, worth: 10 } }, 1, true],
    ['prior worth 4 and aim known: from the first', { aim: 5, prior: { sigma: 2, worth: 4 } }, 0, true],
  ];
  it.each(cases)('%s', (_name, config, first, drawn) => {
    const { normal } = seededNumbers(20);
    const chiSquare = (degrees: number): number => {
      let sum = 0;
      for (let i = 0; i < degrees; i += 1) sum += normal() ** 2;
      return sum;
    };
    const rows = Array.from({ length: STREAMS }, () => {
      const worth = config.prior?.worth ?? 1;
      const sigma = drawn ? 2 * Math.sqrt(worth / chiSquare(worth)) : 2;
      const values = Array.from({ length: LENGTH }, () => 5 + sigma * normal());
      return runMethod(selfStarting, config, values).steps.map((step) => step.point.statistic);
    });
    expect(rows[0]?.slice(0, first)).toEqual(Array.from({ length: first }, () => null));
    const column = (i: number): number[] => rows.map((row) => row[i] ?? Number.NaN);
    const mean = (values: number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
    const error = 1 / Math.sqrt(STREAMS);
    const worst = { mean: 0, square: 0, product: 0, beyond: 0 };
    for (let i = first; i < LENGTH; i += 1) {
      worst.mean = Math.max(worst.mean, Math.abs(mean(column(i))) / error);
      worst.square = Math.max(worst.square, Math.abs(mean(column(i).map((z) => z * z)) - 1) / (error * Math.SQRT2));
      const beyond = mean(column(i).map((z) => (Math.abs(z) > 1.959964 ? 1 : 0)));
      worst.beyond = Math.max(worst.beyond, Math.abs(beyond - 0.05) / (error * Math.sqrt(0.05 * 0.95)));
      for (let j = first; j < i; j += 1) {
        const [a, b] = [column(i), column(j)];
        worst.product = Math.max(worst.product, Math.abs(mean(a.map((z, k) => z * (b[k] ?? 0)))) / error);
      }
    }
    console.log(`${_name}: worst deviations in standard errors`, worst, `(s.e. of a mean ${error.toFixed(4)})`);
    // 12 means, 12 squares, 66 products a case: 4.5 standard errors is passed by chance about once in 2000 such tests.
    expect(worst.mean).toBeLessThan(4.5);
    expect(worst.square).toBeLessThan(4.5);
    expect(worst.beyond).toBeLessThan(4.5);
    expect(worst.product).toBeLessThan(4.5);
  });
});
