import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { causeLines, push } from '../../../src/core/drift/cause-lines.js';
import type { Entry } from '../../../src/core/drift/entry.js';
import { forecast, reach } from '../../../src/core/drift/forecast.js';
import { levelOf, startLevel } from '../../../src/core/drift/level-filter.js';
import { levels } from '../../../src/core/drift/levels.js';
import { levelAhead, nextLevel } from '../../../src/core/drift/next-level.js';
import { mayCross, outsideAhead } from '../../../src/core/drift/outside-ahead.js';
import { scatter } from '../../../src/core/drift/scatter-now.js';
import { sizeOf } from '../../../src/core/drift/size-of.js';
import { normalCdf } from '../../../src/core/spc/normal.js';
import { SEVEN } from '../../support/press-sim.js';
import { seeded } from '../../support/seeded.js';
import { config, SIGMA, scene, watchRun } from './watch-run.js';

/** Solves a·x = b by Gaussian elimination with pivoting: the covariance taken as a whole, against the shortcut in the program. */
const solve = (a: readonly (readonly number[])[], b: readonly number[]): number[] => {
  const m = a.map((row, i) => [...row, b[i] ?? 0]);
  const n = b.length;
  for (let p = 0; p < n; p++) {
    let best = p;
    for (let r = p; r < n; r++) if (Math.abs(m[r]?.[p] ?? 0) > Math.abs(m[best]?.[p] ?? 0)) best = r;
    const [x, y] = [m[p] ?? [], m[best] ?? []];
    m[p] = y;
    m[best] = x;
    for (let r = 0; r < n; r++) {
      if (r === p) continue;
      const f = (m[r]?.[p] ?? 0) / (m[p]?.[p] ?? 1);
      m[r] = (m[r] ?? []).map((v, c) => v - f * (m[p]?.[c] ?? 0));
    }
  }
  return m.map((row, i) => (row[n] ?? 0) / (row[i] ?? 1));
};

describe('size of a movement', () => {
  it('is generalised least squares with the full covariance, a missing reading left out', () => {
    const lines = causeLines(config);
    const own = [1, 0.9, 1.3, 1.1, 0.8, 1.2, 1].map((v) => v * 0.0013);
    const shared = 0.0004;
    const known = { own, shared, sigma: own.map((v) => Math.sqrt(v + shared)), pooled: 0.04, freedom: 1e6 };
    const random = seeded(8);
    const entries: Entry[] = Array.from({ length: 5 }, (_, t) => ({
      at: t,
      web_m: 650 * t,
      value: SEVEN.at_m.map((_, k) => (k === 0 || (k + t) % 4 === 0 ? null : 0.05 * random.normal())),
      blind: [],
    }));
    for (const cause of [3, 7, 8]) {
      let num = 0;
      let info = 0;
      for (const e of entries) {
        const read = e.value.flatMap((z, k) => (z === null ? [] : [{ z, k }]));
        const covariance = read.map((r) => read.map((c) => (r.k === c.k ? (own[r.k] ?? 0) + shared : shared)));
        const d = read.map((r) => push(lines, cause, r.k));
        const w = solve(covariance, d);
        num += w.reduce((a, x, i) => a + x * (read[i]?.z ?? 0), 0);
        info += w.reduce((a, x, i) => a + x * (d[i] ?? 0), 0);
      }
      const unit = cause === 8 ? 0.0016 / 64 : 0.0016;
      const got = sizeOf(lines, known, entries, { cause, start: 0, shape: 'step', ln: 0 }, 650);
      // Shrunk by a prior of three sigmas.
      expect(got.mean).toBeCloseTo(num / (info + 1 / (9 * unit)), 10);
      expect(got.sd).toBeCloseTo(1 / Math.sqrt(info + 1 / (9 * unit)), 10);
    }
  });
});

describe('levels', () => {
  it('of a quiet station lie nearer its mean than its readings do', () => {
    const checks = scene({ checks: 60, moves: (k) => (k === 2 ? 0.3 : 0) });
    const w = watchRun(config, checks);
    const read = checks.flatMap((s) => s.along.read.slice(2, 3)).filter((r): r is number => r !== null);
    const now = levels(config, w.state, 'along')[2];
    expect(Math.abs((now?.mean_mm ?? 9) - mean(read))).toBeLessThan(0.4 * SIGMA);
    expect(now?.sd_mm).toBeLessThan(0.4 * SIGMA);
  });

  it('follow a step within a few checks and a steady slope with its slope', () => {
    let stepped = startLevel(0, 0.01, 0.04);
    for (const r of [0.01, -0.02, 0, 0.03, -0.01, 0.16, 0.13, 0.15, 0.14])
      stepped = nextLevel(stepped, 0.04, 1, 1, 0, r);
    expect(levelOf(stepped).mean_mm).toBeGreaterThan(0.12);
    let going = startLevel(0, 0.01, 0.04);
    for (let t = 1; t <= 40; t++) going = nextLevel(going, 0.04, 1, 1, 0, 0.02 * t);
    expect(levelOf(going).mean_mm).toBeGreaterThan(0.77);
    expect(going.weight.reduce((a, w) => a + w, 0)).toBeCloseTo(1, 12);
  });

  it('are less sure after a known move of uncertain size', () => {
    const before = startLevel(0, 0.01, 0.04);
    const loose = levelOf(nextLevel(before, 0.04, 1, 1, 0.02 ** 2, null)).sd_mm;
    expect(loose).toBeGreaterThan(levelOf(nextLevel(before, 0.04, 1, 1, 0, null)).sd_mm);
  });
});

describe('scatter learned', () => {
  it('comes to the standard deviation of the readings, whatever the job believed', () => {
    const checks = scene({ checks: 150 });
    const read = checks.flatMap((s) => s.along.read).filter((r): r is number => r !== null);
    for (const believed of [0.02, 0.04, 0.08]) {
      const c = { ...config, spread_mm: { along: believed, across: believed } };
      const now = scatter(c, watchRun(c, checks).state).along;
      expect(now.sigma_mm / standardDeviation(read)).toBeGreaterThan(0.93);
      expect(now.sigma_mm / standardDeviation(read)).toBeLessThan(1.07);
    }
  });

  it('tells the share that comes from the reference: 0.16 in this simulation (0.016² of 0.04²)', () => {
    const now = scatter(config, watchRun(config, scene({ checks: 200 })).state).along;
    expect(now.share_of_reference).toBeGreaterThan(0.08);
    expect(now.share_of_reference).toBeLessThan(0.26);
  });

  it('is the belief before any reading, and not less than rounding hides', () => {
    expect(scatter(config, watchRun(config, []).state).along.sigma_mm).toBeCloseTo(0.04, 12);
    const coarse = { ...config, resolution_mm: 0.2 };
    expect(scatter(coarse, watchRun(coarse, []).state).along.sigma_mm).toBeCloseTo(0.08, 12);
  });
});

describe('forecast', () => {
  const ramp = watchRun(config, scene({ checks: 60, moves: (k, t) => (k === 3 && t > 30 ? 0.1 * (t - 30) : 0) }));

  it('lies in its interval, which widens with the distance', () => {
    const near = forecast(config, ramp.state, 'along', '4', 61 * 650, 0.15);
    const far = forecast(config, ramp.state, 'along', '4', 75 * 650, 0.15);
    if (near === null || far === null) throw new Error('no forecast');
    for (const f of [near, far]) {
      expect(f.low_mm).toBeLessThan(f.mean_mm);
      expect(f.high_mm).toBeGreaterThan(f.mean_mm);
    }
    expect(far.high_mm - far.low_mm).toBeGreaterThan(near.high_mm - near.low_mm);
    expect(far.p_out).toBeGreaterThan(near.p_out);
  });

  it('of a ramp of 0.1 sigma a check, now at 3 sigma, reaches 3.75 sigma in some 7 checks: 40 runs', () => {
    const ramps = Array.from({ length: 40 }, (_, i) =>
      watchRun(config, scene({ seed: i + 1, checks: 60, moves: (k, t) => (k === 3 && t > 30 ? 0.1 * (t - 30) : 0) })),
    );
    const reached = ramps.map((run) => reach(config, run.state, 'along', '4', 0.15, 40 * 650));
    for (const r of reached) {
      if (r === null) continue;
      expect(r.likely_m).toBeGreaterThanOrEqual(60 * 650);
      expect(r.early_m).toBeLessThanOrEqual(r.likely_m);
      expect(r.late_m === null || r.late_m >= r.likely_m).toBe(true);
    }
    // No crossing foreseen counts as one that never comes: the middle one of all runs is near the truth, 67.5 checks.
    const middle = reached.map((r) => r?.likely_m ?? Infinity).toSorted((x, y) => x - y)[20] ?? Infinity;
    expect(middle).toBeGreaterThan(64 * 650);
    expect(middle).toBeLessThan(80 * 650);
    const true_m = 67.5 * 650;
    const holds = reached.filter((r) => r !== null && r.early_m <= true_m && (r.late_m === null || r.late_m >= true_m));
    expect(holds.length).toBeGreaterThanOrEqual(28);
  });

  it('has the chance of being outside that the accounts give, each a normal (Cephes), however far ahead', () => {
    let f = startLevel(0, 0.01, 0.04);
    for (const r of [0.02, -0.01, 0.05, 0.06, 0.09, 0.08, 0.11]) f = nextLevel(f, 0.04, 1, 1, 0, r);
    for (const steps of [0.5, 1, 3, 20]) {
      const then = levelAhead(f, 0.04, steps, 1);
      const out = then.weight.reduce((sum, w, i) => {
        const [level, sd] = [(then.level[i] ?? 0) + 0.02, Math.sqrt(then.variance[i] ?? 0)];
        return sum + w * (normalCdf(-0.15, level, sd) + 1 - normalCdf(0.15, level, sd));
      }, 0);
      const quick = outsideAhead(f, 0.04, steps, 0.02, 0.15, null);
      expect(quick.out).toBeCloseTo(out, 8);
      expect(quick.mean).toBeCloseTo(levelOf(then).mean_mm + 0.02, 10);
      // The quick look may never rule out a crossing that is likely.
      if (outsideAhead(f, 0.04, steps, 0.02, 0.15, 0).out >= 0.5)
        expect(mayCross(f, 0.04, steps, 0.02, 0.15)).toBe(true);
    }
  });

  it('of a quiet station reaches nothing', () => {
    expect(reach(config, ramp.state, 'along', '2', 0.15, 40 * 650)).toBeNull();
    expect(forecast(config, ramp.state, 'along', '2', 61 * 650, 0.15)?.p_out).toBeLessThan(0.02);
  });

  it('of a station already out crosses where the last check was taken', () => {
    const out = watchRun(config, scene({ checks: 40, moves: (k, t) => (k === 3 && t > 30 ? 6 : 0) }));
    expect(reach(config, out.state, 'along', '4', 0.15, 26_000)).toMatchObject({
      early_m: 40 * 650,
      likely_m: 40 * 650,
    });
  });
});
