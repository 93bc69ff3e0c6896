import { describe, expect, it } from 'vitest';
import { loupeBias, type TrailCheck } from '../../src/core/sensor-bias.js';

const check = (web_m: number, sensor: boolean, along: number | null): TrailCheck => ({
  web_m,
  sensor,
  along: [0, along],
  across: [0, null],
});
const config = { lag_m: 2.5, within_m: 100 };

describe('loupe against sensor', () => {
  // The sensor reads 0.10 + 0.01 at every 50 m; the loupe 0.01, 0.02, 0.03, 0.02, 0.02 more.
  const sensors = Array.from({ length: 40 }, (_, i) => check(i * 50, true, 0.1 + i * 0.01));
  const keyed = [0.01, 0.02, 0.03, 0.02, 0.02].map((more, k) => check(500 * k + 12.5, false, 0.1 + k * 0.1 + more));

  it('mean of the paired differences and its 95 % interval', () => {
    // Student's t for 4 degrees of freedom, 0.975: 2.776 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2); sd 0.00707, so half the interval is 0.00878.
    const all = loupeBias([...sensors, check(2000, true, 0.5), ...keyed], 1, 'along', config);
    expect(all.pairs).toBe(5);
    expect(all.mean_mm).toBeCloseTo(0.02, 9);
    expect(all.sd_mm).toBeCloseTo(0.00707, 5);
    expect(all.high_mm).toBeCloseTo(0.02 + (2.776 * 0.0070711) / Math.sqrt(5), 5);
    expect(all.low_mm).toBeCloseTo(0.0112, 4);
  });
  it('too few pairs, or none near enough, say nothing', () => {
    expect(loupeBias([...sensors, ...keyed.slice(0, 4)], 1, 'along', config)).toEqual({
      pairs: 4,
      mean_mm: null,
      low_mm: null,
      high_mm: null,
      sd_mm: null,
    });
    expect(
      loupeBias([check(0, true, 0.1), ...keyed.map((c) => ({ ...c, web_m: c.web_m + 5000 }))], 1, 'along', config)
        .pairs,
    ).toBe(0);
    expect(loupeBias([...sensors, ...keyed], 1, 'across', config).pairs).toBe(0);
    expect(loupeBias([], 1, 'along', config).pairs).toBe(0);
  });
});
