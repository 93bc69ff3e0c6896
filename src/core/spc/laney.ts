import { fail, ok, type Result } from '../result.js';
import { D2_OF_TWO } from './constants.js';

/**
 * Limits for counts that scatter more (or less) than chance alone makes them, taken from how the counts themselves
 * jump from one sample to the next.
 * How: each rate is put on its own chance scale, z = (rate - centre) / standard error; sigma_z is the mean moving
 * range of z over d2 = 1.128; the usual limits are widened by sigma_z. 1 means chance explains the scatter.
 * In: rates with their standard errors under chance, null where a sample is missing (its moving ranges are left out).
 * Out: z has no unit; limits in the unit of the rates, not below `floor` nor above `ceiling`.
 * Too few: a refusal below two neighbouring rates. Errors: a standard error not above 0 is a refusal.
 * Source: D. B. Laney (2002), Improved control charts for attributes, Quality Engineering 14(4), 531-537.
 * Example: NIST 6.3.3.2 (30 samples of 50) gives sigma_z 1.66 and an upper limit of 0.528.
 */
export type Rate = { readonly rate: number; readonly standardError: number };

export type Laney = {
  readonly sigmaZ: number;
  readonly z: readonly (number | null)[];
  readonly limits: readonly ({ readonly lower: number; readonly upper: number } | null)[];
};

export type LaneySettings = {
  readonly centre: number;
  readonly width?: number;
  readonly floor?: number;
  readonly ceiling?: number;
  /** 2/sqrt(pi) unless a rounded table value is to be used. */
  readonly d2?: number;
};

export const laney = (rates: readonly (Rate | null)[], settings: LaneySettings): Result<Laney> => {
  const { centre, width = 3, floor = 0, ceiling = Number.POSITIVE_INFINITY, d2 = D2_OF_TWO } = settings;
  if (rates.some((rate) => rate !== null && !(rate.standardError > 0))) {
    return fail('over-dispersed limits need rates that can scatter: a standard error is 0');
  }
  const z = rates.map((rate) => (rate === null ? null : (rate.rate - centre) / rate.standardError));
  let jumps = 0;
  let sum = 0;
  for (let i = 1; i < z.length; i += 1) {
    const now = z[i] ?? null;
    const before = z[i - 1] ?? null;
    if (now === null || before === null) continue;
    jumps += 1;
    sum += Math.abs(now - before);
  }
  if (jumps === 0) return fail('over-dispersed limits need at least 2 neighbouring samples');
  const sigmaZ = sum / jumps / d2;
  const limits = rates.map((rate) => {
    if (rate === null) return null;
    const reach = width * rate.standardError * sigmaZ;
    return { lower: Math.max(floor, centre - reach), upper: Math.min(ceiling, centre + reach) };
  });
  return ok({ sigmaZ, z, limits });
};
