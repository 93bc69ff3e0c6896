import { describe, expect, it } from 'vitest';
import { type Costs, lossOf, outNext, outNow, outside } from '../../../src/core/planner/expected-loss.js';
import { type Standing, standingAt } from '../../../src/core/planner/standing.js';
import { normalCdf } from '../../../src/core/spc/normal.js';
import { seeded } from '../../support/seeded.js';

const COSTS: Costs = { horizon_m: 2000, offset_m: 200, going_offset_m: 100, touch_m: 30 };
const TOLERANCE = 0.15;

/** Two accounts: one holds, one creeps ahead and is less and less known. */
const MIXED: Standing = {
  weight: [0.7, 0.3],
  now: [0.04, 0.08],
  nowVariance: [0.02 ** 2, 0.03 ** 2],
  next: [0.04, 0.16],
  nextVariance: [0.02 ** 2, 0.05 ** 2],
};

/** Both tails, in full. */
const tails = (mean: number, variance: number, tolerance: number): number => {
  const sd = Math.sqrt(variance);
  return normalCdf(-tolerance, mean, sd) + 1 - normalCdf(tolerance, mean, sd);
};

/** The loss by plain integration over the web until the next check, both tails, in fine steps. */
const integrated = (s: Standing, move: number, variance: number, steps = 400): number => {
  let loss = 0;
  for (let n = 0; n < steps; n++) {
    const t = (n + 0.5) / steps;
    s.weight.forEach((w, i) => {
      const mean = (s.now[i] ?? 0) * (1 - t) + (s.next[i] ?? 0) * t + move;
      const v = (s.nowVariance[i] ?? 0) * (1 - t) + (s.nextVariance[i] ?? 0) * t + variance;
      const square = (mean * mean + v) / TOLERANCE ** 2;
      loss += (w * (COSTS.horizon_m * tails(mean, v, TOLERANCE) + COSTS.offset_m * square)) / steps;
    });
  }
  return loss;
};

describe('expected loss', () => {
  it.each([-0.3, -0.12, -0.06, 0, 0.05, 0.2])(
    'moved by %d mm it is the integral over the web, to a twenty-fifth',
    (move) => {
      for (const variance of [0, 0.01 ** 2, 0.04 ** 2]) {
        const plain = integrated(MIXED, move, variance);
        expect(Math.abs(lossOf(MIXED, move, variance, TOLERANCE, COSTS) / plain - 1)).toBeLessThan(0.04);
      }
    },
  );

  it('is what so many presses lose on the mean (Monte Carlo)', () => {
    const random = seeded(11);
    const draws = 40_000;
    const knob = 0.02;
    for (const move of [0, -0.1]) {
      let sum = 0;
      let squares = 0;
      for (let n = 0; n < draws; n++) {
        const i = random.uniform() < 0.7 ? 0 : 1;
        const t = random.uniform();
        const v = (MIXED.nowVariance[i] ?? 0) * (1 - t) + (MIXED.nextVariance[i] ?? 0) * t + knob ** 2;
        const mean = (MIXED.now[i] ?? 0) * (1 - t) + (MIXED.next[i] ?? 0) * t + move;
        const at = mean + Math.sqrt(v) * random.normal();
        const one = (Math.abs(at) > TOLERANCE ? COSTS.horizon_m : 0) + COSTS.offset_m * (at / TOLERANCE) ** 2;
        sum += one;
        squares += one * one;
      }
      const mean = sum / draws;
      const error = Math.sqrt((squares / draws - mean * mean) / draws);
      const loss = lossOf(MIXED, move, knob ** 2, TOLERANCE, COSTS);
      // Within four standard errors, and what three places stand for the whole web costs.
      expect(Math.abs(loss - mean)).toBeLessThan(4 * error + 0.03 * mean);
    }
  });

  it('is least at the aim for what holds, and alike on both sides', () => {
    const s = standingAt(0, 0.02);
    const at = (move: number): number => lossOf(s, move, 0, TOLERANCE, COSTS);
    for (const move of [0.02, 0.07, 0.15, 0.4]) {
      expect(at(move)).toBeCloseTo(at(-move), 9);
      expect(at(move)).toBeGreaterThan(at(0));
    }
    expect(at(0.4)).toBeGreaterThan(COSTS.horizon_m);
  });

  it('off by a third of the tolerance, and well known, it is worth less than a touch; at the limit far more', () => {
    expect(lossOf(standingAt(TOLERANCE / 3, 0.005), 0, 0, TOLERANCE, COSTS)).toBeLessThan(COSTS.touch_m);
    expect(lossOf(standingAt(TOLERANCE, 0.005), 0, 0, TOLERANCE, COSTS)).toBeGreaterThan(30 * COSTS.touch_m);
  });
});

describe('chance of being outside', () => {
  it.each([0, 0.1, 0.149, 0.15, 0.2, 0.5, -0.18])('at %d mm it is the tail that is near (Cephes)', (mean) => {
    for (const sd of [0.005, 0.03]) {
      const both = tails(mean, sd * sd, TOLERANCE);
      expect(Math.abs(outside(mean, sd * sd, TOLERANCE) - both)).toBeLessThan(1e-6 + (mean === 0 ? both / 2 : 1e-6));
    }
  });

  it('is 0 or 1 beyond five sigmas, and a station known exactly is in or out', () => {
    expect(outside(0.02, 0.02 ** 2, TOLERANCE)).toBe(0);
    expect(outside(0.26, 0.02 ** 2, TOLERANCE)).toBe(1);
    expect(outside(0.1499, 0, TOLERANCE)).toBe(0);
    expect(outside(0.1501, 0, TOLERANCE)).toBe(1);
  });

  it('now and at the next check are those of the accounts', () => {
    const of = (means: readonly number[], variances: readonly number[]): number =>
      MIXED.weight.reduce((sum, w, i) => sum + w * tails(means[i] ?? 0, variances[i] ?? 0, TOLERANCE), 0);
    expect(outNow(MIXED, TOLERANCE)).toBeCloseTo(of(MIXED.now, MIXED.nowVariance), 6);
    expect(outNext(MIXED, TOLERANCE)).toBeCloseTo(of(MIXED.next, MIXED.nextVariance), 6);
    expect(outNext(MIXED, TOLERANCE)).toBeGreaterThan(0.15);
  });
});
