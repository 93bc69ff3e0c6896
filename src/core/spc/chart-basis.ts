import { fail, ok, type Result } from '../result.js';
import { addReading, moments, momentsOf } from './moments.js';
import { movingRange } from './moving-range.js';

/** Where a chart of single readings is centred and how far it reckons they scatter, given or found in the readings. */
export type ChartBasis = { readonly centre: number; readonly sigma: number };

export type BasisAsked = {
  readonly target?: number;
  readonly sigma?: number;
  readonly width?: number;
  /** The step the readings were rounded to. */
  readonly resolution?: number;
};

/**
 * Centre: the target if given, else the mean. Sigma: if given, else from the mean moving range; never 0. Where the step
 * of the readings is known, sigma found in them is never less than half a step: that is how far the readings of a
 * process standing still between two steps scatter, so rounding alone never signals.
 */
export const chartBasis = (asked: BasisAsked, values: readonly (number | null)[]): Result<ChartBasis> => {
  const bad = badReading(values) ?? badAsked(asked);
  if (bad !== null) return fail(bad);
  let state = moments.initial({});
  for (const value of values) if (value !== null) state = addReading(state, value);
  const { n, mean } = momentsOf(state);
  if (mean === null) return fail('there are no readings to chart');
  if (asked.sigma !== undefined) return ok({ centre: asked.target ?? mean, sigma: asked.sigma });
  const range = movingRange(values);
  const still = (asked.resolution ?? 0) / 2;
  if (!range.ok) return fail(`${n === 1 ? 'one reading shows no scatter' : range.problem.message}; give sigma`);
  const sigma = Math.max(range.value.sigma, still);
  if (!(sigma > 0)) return fail('the readings do not scatter (every moving range is 0); give sigma');
  return ok({ centre: asked.target ?? mean, sigma });
};

/** The first value that is not a number, in words, or null. */
export const badReading = (values: readonly (number | null)[]): string | null => {
  const at = values.findIndex((value) => value !== null && !Number.isFinite(value));
  return at < 0 ? null : `reading ${at + 1} is ${values[at]}, not a number; leave it blank if it is missing`;
};

/** What is wrong with the given target, sigma or width, in words, or null. */
export const badAsked = ({ target, sigma, width, resolution }: BasisAsked): string | null => {
  if (target !== undefined && !Number.isFinite(target)) return `the target must be a number, got ${target}`;
  if (sigma !== undefined && !(sigma > 0 && Number.isFinite(sigma))) return `sigma must be above 0, got ${sigma}`;
  if (width !== undefined && !(width > 0 && Number.isFinite(width))) return `the width must be above 0, got ${width}`;
  if (resolution !== undefined && !(resolution > 0 && Number.isFinite(resolution))) {
    return `the step of the readings must be above 0, got ${resolution}`;
  }
  return null;
};
