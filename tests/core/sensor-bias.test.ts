import { describe, expect, it } from 'vitest';
import { addReading, NO_SUMS } from '../../src/core/run/sums.js';
import { checkBeside, loupeBias } from '../../src/core/sensor-bias.js';

const summed = (differences: readonly number[]) => differences.reduce(addReading, NO_SUMS);

describe('loupe against sensor', () => {
  it('mean of the paired differences and its 95 % interval', () => {
    // Student's t for 4 degrees of freedom, 0.975: 2.776 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2); sd 0.00707, so half the interval is 0.00878.
    const bias = loupeBias(summed([0.01, 0.02, 0.03, 0.02, 0.02]), 0.01);
    expect(bias.pairs).toBe(5);
    expect(bias.mean_mm).toBeCloseTo(0.02, 9);
    expect(bias.sd_mm).toBeCloseTo(0.00707, 5);
    expect(bias.high_mm).toBeCloseTo(0.02 + (2.776 * 0.0070711) / Math.sqrt(5), 5);
    expect(bias.low_mm).toBeCloseTo(0.0112, 4);
  });

  it('four pairs say nothing', () => {
    expect(loupeBias(summed([0.01, 0.02, 0.03, 0.02]), 0.01)).toEqual({
      pairs: 4,
      mean_mm: null,
      low_mm: null,
      high_mm: null,
      sd_mm: null,
      apart: null,
    });
  });

  it('they read apart when the interval leaves out 0, and by more than the loupe rounds off', () => {
    expect(loupeBias(summed([0.01, 0.02, 0.03, 0.02, 0.02]), 0.01).apart).toBe(true);
    expect(loupeBias(summed([-0.01, -0.02, -0.03, -0.02, -0.02]), 0.01).apart).toBe(true);
    expect(loupeBias(summed([0.01, -0.02, 0.03, -0.02, 0.02]), 0.01).apart).toBe(false);
    expect(loupeBias(summed([0.01, 0.02, 0.03, 0.02, 0.02]), 0.05).apart).toBe(false);
  });

  it('the sensor check nearest on the web, if it is near enough', () => {
    const checks = [0, 50, 100].map((web_m) => ({ web_m, sensor: true }));
    expect(checkBeside([...checks, { web_m: 61, sensor: false }], 60, 100)).toBe(checks[1]);
    expect(checkBeside(checks, 160, 60)).toBe(checks[2]);
    expect(checkBeside(checks, 161, 60)).toBeNull();
    expect(checkBeside([], 0, 60)).toBeNull();
  });
});
