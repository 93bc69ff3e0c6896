import { fail, ok, type Result } from '../result.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { D2_OF_TWO } from './constants.js';

/**
 * Rare events by the time or distance between them, any positive number: is this gap shorter or longer than usual?
 * How: gaps between random events are exponential, far from normal; raised to the power 1/3.6 they are nearly normal,
 * and an ordinary chart of single readings (moving-range limits) is drawn on that scale. `back` gives the limits in
 * the unit of the gaps.
 * In: gaps above 0 in any unit (null where one is missing). Out: statistic and limits on the raised scale.
 * Too few: a refusal below two neighbouring gaps. Errors: a gap not above 0, or no scatter, is a refusal.
 * Source: L. S. Nelson (1994), A control chart for parts-per-million nonconforming items, J. Quality Technology 26(3),
 * 239-240; D. C. Montgomery, Introduction to Statistical Quality Control, example of valve failures (power 0.2777).
 * Example: that example's 20 gaps centre at 5.3866 with limits -0.8879 and 11.6611.
 */
export type TimePoint = ChartPoint & { readonly back?: { readonly lower: number; readonly upper: number } };

export type TimeSettings = { readonly power?: number; readonly width?: number; readonly d2?: number };

export const tChart = (gaps: readonly (number | null)[], settings: TimeSettings = {}): Result<Chart<TimePoint>> => {
  const { power = 1 / 3.6, width = 3, d2 = D2_OF_TWO } = settings;
  const bad = gaps.find((gap) => gap !== null && !(gap > 0 && Number.isFinite(gap)));
  if (bad !== undefined) return fail(`a gap between events must be above 0, got ${bad}`);
  const raised = gaps.map((gap) => (gap === null ? null : gap ** power));
  const read = raised.filter((y) => y !== null);
  const jumps: number[] = [];
  for (let i = 1; i < raised.length; i += 1) {
    const now = raised[i] ?? null;
    const before = raised[i - 1] ?? null;
    if (now !== null && before !== null) jumps.push(Math.abs(now - before));
  }
  if (jumps.length === 0) return fail(`a chart of gaps needs at least 2 neighbouring gaps, got ${read.length}`);
  const centre = read.reduce((sum, y) => sum + y, 0) / read.length;
  const meanRange = jumps.reduce((sum, jump) => sum + jump, 0) / jumps.length;
  if (meanRange === 0) return fail('all gaps are equal: there is no scatter to set limits by');
  const sigma = meanRange / d2;
  const lower = centre - width * sigma;
  const upper = centre + width * sigma;
  const back = { lower: Math.max(0, lower) ** (1 / power), upper: upper ** (1 / power) };
  const points = raised.map((y, at): TimePoint => {
    if (y === null) return missingPoint(at + 1);
    const beyond = y < lower || y > upper;
    const value = gaps[at] ?? null;
    return { i: at + 1, value, statistic: y, lower, upper, signals: beyond ? ['beyond-limits'] : [], back };
  });
  return ok({ centre, sigma, points, parameters: { power, width }, result: { mean_moving_range: meanRange, back } });
};
