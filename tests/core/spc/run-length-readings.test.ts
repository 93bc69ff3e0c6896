import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../../../src/core/spc/gauss-legendre.js';
import { individuals, type RuleWord, seededNumbers, zoneRunLength } from '../../../src/core/spc/index.js';
import { runningIntegral } from '../../../src/core/spc/running-integral.js';

/**
 * Mean readings until `steps` steps in a row go one way (or turn each time), by counting orders: only the rank of the
 * newest reading among all so far matters, and every rank is as likely.
 */
const byRanks = (steps: number, alternating: boolean): number => {
  // ranks[w][k][j]: chance that the newest of n readings has rank j, its last k steps in a row went up (w 0) or down (1)
  let ranks = [0, 1].map((way) =>
    Array.from({ length: steps }, (_, k) => (k === 1 ? (way === 0 ? [0, 0.5] : [0.5, 0]) : [0, 0])),
  );
  let length = 2;
  let alive = 1;
  let hazard = 0;
  for (let n = 2; n < 400; n += 1) {
    length += alive;
    const next = [0, 1].map(() => Array.from({ length: steps }, () => new Array<number>(n + 1).fill(0)));
    ranks.forEach((byRun, before) => {
      byRun.forEach((chances, k) => {
        if (k === 0) return;
        let under = 0;
        const total = chances.reduce((a, b) => a + b, 0);
        for (let rank = 0; rank <= n; rank += 1) {
          for (const way of [0, 1]) {
            const goesOn = alternating ? way !== before : way === before;
            const run = goesOn ? k + 1 : 1;
            if (run >= steps) continue;
            const row = next[way]?.[run] ?? [];
            row[rank] = (row[rank] ?? 0) + (way === 0 ? under : total - under) / (n + 1);
          }
          under += chances[rank] ?? 0;
        }
      });
    });
    ranks = next;
    const left = ranks.flat(2).reduce((a, b) => a + b, 0);
    hazard = 1 - left / alive;
    alive = left;
  }
  return length + alive / hazard;
};

const simulated = (
  rules: readonly RuleWord[],
  shift: number,
  drift: number,
  runs: number,
): { mean: number; error: number } => {
  const { normal } = seededNumbers(41);
  const config = { centre: 0, sigma: 1, rules };
  let sum = 0;
  let squares = 0;
  for (let run = 0; run < runs; run += 1) {
    let state = individuals.initial(config);
    let t = 0;
    for (let going = true; going; ) {
      t += 1;
      const step = individuals.step(config, state, normal() + shift + drift * t);
      state = step.state;
      going = step.signal === null;
    }
    sum += t;
    squares += t * t;
  }
  const mean = sum / runs;
  return { mean, error: Math.sqrt((squares / runs - mean * mean) / runs) };
};

describe('run lengths of rules that look at the readings themselves', () => {
  it('six-trend alone: by counting orders, whatever the distribution', () => {
    expect(zoneRunLength({ rules: ['six-trend'] })).toBeCloseTo(byRanks(5, false), 5);
    expect(zoneRunLength({ rules: ['six-trend'], shift: 1.3 })).toBeCloseTo(byRanks(5, false), 4);
  });
  it('fourteen-alternating alone: by counting orders', () => {
    expect(zoneRunLength({ rules: ['fourteen-alternating'] })).toBeCloseTo(byRanks(13, true), 4);
  });
  it.each([
    [['beyond-limits', 'six-trend'] as const, 0, 0, 198.62074],
    [['beyond-limits', 'six-trend'] as const, 1, 0, 40.231589],
    [['beyond-limits', 'six-trend'] as const, 0, 0.1, 18.131554],
    [['beyond-limits', 'nine-one-side', 'six-trend', 'fourteen-alternating'] as const, 0.5, 0, null],
  ])('%j, shift %d, drift %d: against simulation (seed 41)', (rules, shift, drift, value) => {
    const got = zoneRunLength({ rules, shift, drift });
    const { mean, error } = simulated(rules, shift, drift, 3000);
    console.log(
      `${rules.join(' ')}: computed ${got.toFixed(3)}, simulated ${mean.toFixed(2)}, s.e. ${error.toFixed(2)}`,
    );
    expect(Math.abs(got - mean)).toBeLessThan(4 * error);
    if (value !== null) expect(got).toBeCloseTo(value, 4);
  });
  it('the running integral of x^3 is (x^4 - 1) / 4', () => {
    const { nodes } = gaussLegendre(8, -1, 1);
    runningIntegral(8).forEach((row, j) => {
      const sum = row.reduce((total, weight, i) => total + weight * (nodes[i] ?? 0) ** 3, 0);
      expect(sum).toBeCloseTo(((nodes[j] ?? 0) ** 4 - 1) / 4, 14);
    });
  });
});
