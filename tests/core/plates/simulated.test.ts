import { describe, expect, it } from 'vitest';
import { calibration, falseFlags, found } from '../../bench/plates.js';

// Simulated plates with the truth known; seeded. The full tables are printed by the bench.
describe('simulated plates', () => {
  it('false flags of six clean plates: at most one in 300 checks of the press', () => {
    const { checks, flags } = falseFlags(0.2, 1, 100);
    expect(flags / checks).toBeLessThanOrEqual(1 / 300 + 2 * Math.sqrt(1 / 300 / checks));
  });
  it('the same where counts scatter 1.5 × as much as Poisson', () => {
    const { checks, flags } = falseFlags(0.2, 1.5, 100);
    expect(flags / checks).toBeLessThanOrEqual(1 / 300 + 2 * Math.sqrt(1 / 300 / checks));
  });
  it('0.2 to 1.0 flaws a label is found within 4 checks of 5 labels in 85 % of runs', () => {
    const { within4, runs } = found(0.2, 1, 250);
    expect(within4).toBeGreaterThanOrEqual(0.85 - 2 * Math.sqrt((0.85 * 0.15) / runs));
  });
  it('"dirty before the next check" comes true as often as said, within 0.08 in each fifth that has a hundred checks', () => {
    for (const row of calibration()) if (row.n >= 100) expect(Math.abs(row.said - row.came)).toBeLessThanOrEqual(0.08);
  });
});
