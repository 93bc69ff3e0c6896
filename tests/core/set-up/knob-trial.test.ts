import { linearRegression, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { knobTrial } from '../../../src/core/set-up/knob-trial.js';
import { seeded } from '../../support/seeded.js';

const measured = (...args: Parameters<typeof knobTrial>) => {
  const trial = knobTrial(...args);
  if (trial.kind !== 'measured') throw new Error(trial.why);
  return trial;
};

describe('what one division of a knob does', () => {
  it('the example of its description', () => {
    const trial = measured(0.02, -0.18, 10, 0.02);
    expect(trial.division_mm).toBeCloseTo(0.02, 12);
    expect(trial.sd_mm).toBeCloseTo(0.0028284, 6);
    expect(trial.sense).toBe(-1);
    expect(trial.low_mm).toBeCloseTo(0.02 - 1.96 * 0.0028284, 6);
  });

  it('is the slope of register on divisions, as simple-statistics fits it', () => {
    const [before, after] = [
      [0.03, 0.05, 0.01],
      [0.52, 0.49],
    ];
    const { m } = linearRegression([...before.map((mm) => [0, mm]), ...after.map((mm) => [-8, mm])]);
    const trial = measured(before, after, -8, 0.02);
    expect(trial.division_mm * trial.sense).toBeCloseTo(m, 12);
  });

  it('its uncertainty is the scatter of many such trials, by simulation', () => {
    const { normal } = seeded(11);
    const sizes = Array.from({ length: 4000 }, () => {
      const before = [0, 0].map(() => 0.1 + 0.03 * normal());
      return measured(before, 0.1 + 10 * 0.05 + 0.03 * normal(), 10, 0.03);
    });
    const spread = standardDeviation(sizes.map((trial) => trial.division_mm));
    expect((sizes[0]?.sd_mm ?? 0) / spread).toBeGreaterThan(0.96);
    expect((sizes[0]?.sd_mm ?? 0) / spread).toBeLessThan(1.04);
    const covered = sizes.filter(({ low_mm, high_mm }) => low_mm <= 0.05 && 0.05 <= high_mm).length / sizes.length;
    expect(covered).toBeGreaterThan(0.94);
    expect(covered).toBeLessThan(0.96);
  });

  it.each([
    [[0.02, 0.03, 10, 0.02], /did not move by more than readings scatter/],
    [[0.02, 0.08, 2, 0.02], /too rough to go by: turn 3 divisions/],
    [[0.02, 0.2, 0, 0.02], /was not turned/],
    [[Number.NaN, 0.2, 10, 0.02], /must both be read/],
    [[[], 0.2, 10, 0.02], /must both be read/],
    [[0.02, 0.2, 10, 0], /how much readings scatter/],
    [[0.02, 0.2, Number.POSITIVE_INFINITY, 0.02], /was not turned/],
  ] as const)('%j is not enough, and says why', (args, words) => {
    const trial = knobTrial(...(args as unknown as Parameters<typeof knobTrial>));
    expect(trial.kind === 'not enough' ? trial.why : trial).toMatch(words);
  });

  it('as many divisions as it asks for are enough, if the print moves as it seemed to', () => {
    const first = knobTrial(0, 0.06, 2, 0.02);
    const wanted = first.kind === 'not enough' ? (first.divisions ?? 0) : 0;
    expect(wanted).toBe(3);
    expect(knobTrial(0, 0.03 * wanted, wanted, 0.02).kind).toBe('measured');
  });
});
