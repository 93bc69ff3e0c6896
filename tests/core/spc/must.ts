import { expect } from 'vitest';
import type { Result } from '../../../src/core/result.js';

/** The value, or a failure that shows the refusal. */
export const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(`${result.problem.where ?? ''} ${result.problem.message}`);
  return result.value;
};

/** The words of a refusal, or a failure when nothing was refused. */
export const refused = (result: Result<unknown>): string => {
  if (result.ok) throw new Error(`not refused: ${JSON.stringify(result.value).slice(0, 200)}`);
  return result.problem.message;
};

/** Within an absolute tolerance, as published tables state it. */
export const near = (got: number | null | undefined, want: number, tolerance: number): void => {
  expect(Math.abs((got ?? Number.NaN) - want), `got ${got}, published ${want} +- ${tolerance}`).toBeLessThanOrEqual(
    tolerance,
  );
};

/** Within a relative tolerance of the full-precision value. */
export const same = (got: number | null | undefined, want: number, relative = 1e-12): void =>
  near(got, want, relative * Math.max(Math.abs(want), 1e-300));
