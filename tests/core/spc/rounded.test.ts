import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  changepoint,
  individualsChart,
  PROBABLE_ERROR,
  readingStep,
  roundedNormal,
  roundedReadingsSd,
  roundedScatter,
  runMethod,
  seededNumbers,
  selfStarting,
  withRounding,
  worthwhileStep,
} from '../../../src/core/spc/index.js';
import { must } from './must.js';
import { published, titleOf } from './published.js';

describe('rounded readings', () => {
  it(titleOf('rounding-inflation'), () => {
    for (const row of published('rounding-inflation').expected as Record<string, number>[]) {
      const step = row.increment_over_sigma ?? Number.NaN;
      expect(roundedNormal(0, 1, step).sd).toBeCloseTo(row.sd_mean_on_grid ?? 0, 11);
      expect(roundedNormal(step / 2, 1, step).sd).toBeCloseTo(row.sd_mean_between ?? 0, 11);
      expect(roundedNormal(step / 4, 1, step).sd).toBeCloseTo(row.sd_quarter ?? 0, 11);
      expect(roundedNormal(step / 4, 1, step).mean - step / 4).toBeCloseTo(row.bias_quarter ?? 0, 11);
      expect(roundedReadingsSd(1, step)).toBeCloseTo(row.sheppard ?? 0, 12);
    }
  });
  it(titleOf('probable-error'), () => {
    const { factor, printed } = published('probable-error').expected as { factor: number; printed: number };
    expect(PROBABLE_ERROR).toBeCloseTo(factor, 12);
    expect(Math.abs(PROBABLE_ERROR - printed)).toBeLessThan(0.00052);
    expect(worthwhileStep(1).to).toBeCloseTo(2 * factor, 12);
  });
  it('readings that all repeat still scatter by the rounding: 0.0144 for a step of 0.05', () => {
    const found = roundedScatter([0.1, 0.1, 0.1, 0.1, 0.1], 0.05);
    expect(found.readings).toBeCloseTo(0.05 / Math.sqrt(12), 12);
    expect(found.process).toBe(0);
    expect(roundedScatter([0.1], 0.05)).toEqual({ n: 1, readings: null, process: null });
  });
  it('limits never collapse, whatever repeats (any readings on a grid of 0.05)', () => {
    const reading = fc.integer({ min: -4, max: 4 }).map((k) => k * 0.05);
    fc.assert(
      fc.property(fc.array(reading, { minLength: 2, maxLength: 30 }), (values) => {
        const { readings, process } = roundedScatter(values, 0.05);
        return (
          readings !== null && process !== null && readings >= withRounding(0, 0.05) - 1e-15 && process <= readings
        );
      }),
    );
  });
  it('a reading one step off after many equal ones is no signal when the step is known, and is when it is not', () => {
    const values = [...Array.from({ length: 12 }, () => 0.1), 0.15, 0.1, 0.1, 0.05];
    const told = runMethod(selfStarting, { resolution: 0.05 }, values).steps.map((step) => step.point.statistic ?? 0);
    expect(Math.max(...told.map(Math.abs))).toBeLessThan(3.2);
    expect(runMethod(selfStarting, {}, values).steps[12]?.point.statistic).toBeNull();
    const watched = runMethod(changepoint, { threshold: 4, resolution: 0.05 }, values).steps;
    expect(watched.filter((step) => step.signal !== null)).toEqual([]);
  });
  it('a chart of rounded readings of a process standing still never signals, wherever it stands', () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), fc.integer({ min: 1, max: 1e6 }), (level, seed) => {
        const { normal } = seededNumbers(seed);
        const values = Array.from({ length: 40 }, () => Math.round((level + 0.004 * normal()) / 0.05) * 0.05);
        const chart = must(individualsChart({ resolution: 0.05 }, values));
        expect(chart.sigma).toBeGreaterThanOrEqual(0.025);
        expect(chart.points.flatMap((point) => point.signals)).toEqual([]);
      }),
      { numRuns: 300 },
    );
    expect(individualsChart({}, [0.1, 0.1, 0.1]).ok).toBe(false);
    expect(individualsChart({ resolution: 0 }, [0.1, 0.2]).ok).toBe(false);
  });
  it('says when the step is too coarse for the tolerance', () => {
    expect(readingStep(0.05, 0.3, null).verdict).toBe('coarse');
    expect(readingStep(0.05, 0.1, 0.04)).toMatchObject({ verdict: 'too coarse', shareOfTolerance: 0.5 });
    expect(readingStep(0.05, 0.8, 0.04).why).toContain('more than the scatter');
    expect(readingStep(0.01, 0.3, 0.04)).toMatchObject({ verdict: 'fine', why: 'the step is fine enough' });
  });
});
