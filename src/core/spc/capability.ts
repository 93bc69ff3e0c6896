import { fail, ok, type Result } from '../result.js';
import { chisquareQuantile } from './distributions.js';
import { normalQuantile } from './normal.js';

/**
 * How well the scatter of a process fits into its tolerance: 1 just fits (6 sigma wide), 1.33 leaves room.
 * How: two-sided width over 6 sigma; the k index takes the nearer side over 3 sigma; the m index charges being off
 * target. `capabilityOf` is given one sigma: the within-group one makes it cp, cpk and cpm, the overall one pp and ppk.
 * Limits at `confidence` (0.95): chi-square for the two-sided index; cpk -+ z sqrt(1/(9n) + cpk^2/(2(n - 1))); chi-square
 * for the m index. All take sigma as known from n - 1 degrees of freedom, as the published examples do; a within-group
 * sigma has somewhat fewer, so its true limits are somewhat wider.
 * With d the distance from target in sigmas, published m-index limits (R package qcc, and books) use n(1 + d^2)/(1 +
 * 2d^2) degrees of freedom. Boyles' own n(1 + d^2)^2/(1 + 2d^2) matches the noncentral chi-square; the two agree on
 * target. Simulated, 25 readings 1 sigma off: the published form covers 99 %, Boyles' 94 %. `onTarget` is the published
 * form (never too narrow), `onTargetClose` Boyles'.
 * In: n, mean and sigma of the readings; one or both tolerance ends; target (the middle when both ends are given).
 * Out: no unit; an index that needs an end which is not given is null.
 * Too few: a refusal below 2 readings. Errors: tolerance upside down, no end at all, or sigma not above 0, is a refusal.
 * Source: NIST/SEMATECH e-Handbook 6.1.6; A. F. Bissell (1990), Applied Statistics 39, 331-340; R. A. Boyles (1991),
 * J. Quality Technology 23, 17-26. Example: piston rings (n 125, mean 74.00118, sigma 0.009785, 73.95 to 74.05) have
 * cp 1.703 (1.491, 1.915), cpk 1.663 (1.448, 1.878), cpm 1.691 (1.480, 1.902).
 */
export type Tolerance = { readonly lower?: number; readonly upper?: number; readonly target?: number };

export type Index = { readonly value: number; readonly low: number; readonly high: number };

export type Capability = {
  /** Both ends over 6 sigma. */
  readonly both: Index | null;
  /** The nearer end over 3 sigma. */
  readonly nearest: Index;
  readonly toLower: Index | null;
  readonly toUpper: Index | null;
  /** Both ends over 6 sigma, distance from the target charged. */
  readonly onTarget: Index | null;
  /** The same with Boyles' degrees of freedom: closer limits when off target. */
  readonly onTargetClose: Index | null;
};

export type Measured = { readonly n: number; readonly mean: number; readonly sigma: number };

export const capabilityOf = (measured: Measured, tolerance: Tolerance, confidence = 0.95): Result<Capability> => {
  const { n, mean, sigma } = measured;
  const sound = checkTolerance(tolerance);
  if (!sound.ok) return sound;
  if (!Number.isInteger(n) || n < 2) return fail(`capability needs at least 2 readings, got ${n}`);
  if (!(sigma > 0) || !Number.isFinite(sigma)) {
    return fail(`no scatter (sigma ${sigma}): a process that never varies has no capability to compute`);
  }
  const { lower, upper } = tolerance;
  const oneSide = (room: number): Index => nearestIndex(room / (3 * sigma), n, confidence);
  const toLower = lower === undefined ? null : oneSide(mean - lower);
  const toUpper = upper === undefined ? null : oneSide(upper - mean);
  const nearest =
    toLower !== null && toUpper !== null && toUpper.value < toLower.value ? toUpper : (toLower ?? toUpper);
  if (nearest === null) return fail('capability needs a tolerance: a lower end, an upper end, or both');
  if (lower === undefined || upper === undefined)
    return ok({ both: null, nearest, toLower, toUpper, onTarget: null, onTargetClose: null });
  const cp = (upper - lower) / (6 * sigma);
  const off = (mean - (tolerance.target ?? (lower + upper) / 2)) / sigma;
  const cpm = cp / Math.sqrt(1 + off * off);
  const df = (n * (1 + off * off)) / (1 + 2 * off * off);
  return ok({
    both: spreadIndex(cp, n - 1, confidence),
    nearest,
    toLower,
    toUpper,
    onTarget: spreadIndex(cpm, df, confidence),
    onTargetClose: spreadIndex(cpm, df * (1 + off * off), confidence),
  });
};

/** Refuses a tolerance that is upside down, missing, or not a number. */
export const checkTolerance = ({ lower, upper, target }: Tolerance): Result<true> => {
  for (const [name, end] of [
    ['lower', lower],
    ['upper', upper],
    ['target', target],
  ] as const) {
    if (end !== undefined && !Number.isFinite(end)) return fail(`${name} must be a number, got ${end}`);
  }
  if (lower === undefined && upper === undefined) return fail('a tolerance needs a lower end, an upper end, or both');
  if (lower !== undefined && upper !== undefined && lower >= upper) {
    return fail(`tolerance upside down: lower ${lower} is not below upper ${upper}`);
  }
  return ok(true);
};

const spreadIndex = (value: number, df: number, confidence: number): Index => ({
  value,
  low: value * Math.sqrt(chisquareQuantile(0.5 - confidence / 2, df) / df),
  high: value * Math.sqrt(chisquareQuantile(0.5 + confidence / 2, df) / df),
});

/**
 * A Cpk from n readings with its interval. Source: A. F. Bissell (1990), Applied Statistics 39: variance about 1 / 9n + Cpk² / 2(n - 1).
 * Example: 1.33 from 25 readings is 0.93 to 1.73 at 95 %.
 */
export const nearestIndex = (value: number, n: number, confidence: number): Index => {
  const reach = normalQuantile(0.5 + confidence / 2) * Math.sqrt(1 / (9 * n) + value ** 2 / (2 * (n - 1)));
  return { value, low: value - reach, high: value + reach };
};
