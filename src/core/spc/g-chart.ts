import { fail, ok, type Result } from '../result.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { normalSurvival } from './normal.js';

/**
 * Rare flaws: how many good labels (or whole metres) pass between one flaw and the next, where counting flaws a sample
 * would give almost only zeros. Few between flaws is worse; very many is better than usual.
 * How: the gap is geometric with mean g. Fixed limits are g +- width x sqrt(g (g + 1)), never below 0; exact limits are
 * quantiles of the geometric distribution with p = 1 / (g + 1) at the chances a width-sigma normal tail has.
 * In: gaps as whole numbers, 0 or more (null where one is missing). Out: limits in the same unit.
 * Too few: a refusal below two gaps. Errors: a gap that is not a whole number, or all gaps 0, is a refusal.
 * Source: F. C. Kaminsky, J. C. Benneyan, R. D. Davis and R. J. Burke (1992), J. Quality Technology 24(2), 63-69;
 * J. C. Benneyan (2001). Example: gaps with mean 9.4 have a fixed upper limit of 39.062 and an exact one of 65.
 */
export type GapLimits = { readonly lower: number; readonly upper: number };

export type GapPoint = ChartPoint & { readonly exact?: GapLimits; readonly fixed?: GapLimits };

export type GapSettings = { readonly limits?: 'exact' | 'fixed'; readonly width?: number; readonly centre?: number };

export const gChart = (gaps: readonly (number | null)[], settings: GapSettings = {}): Result<Chart<GapPoint>> => {
  const { limits = 'exact', width = 3 } = settings;
  const read = gaps.filter((gap) => gap !== null);
  const bad = read.find((gap) => !Number.isInteger(gap) || gap < 0);
  if (bad !== undefined) return fail(`a gap between flaws must be a whole number, 0 or more, got ${bad}`);
  if (read.length < 2) return fail(`a chart of gaps needs at least 2 gaps, got ${read.length}`);
  const centre = settings.centre ?? read.reduce((sum, gap) => sum + gap, 0) / read.length;
  if (!(centre > 0)) return fail('all gaps are 0: there is no scatter to set limits by');
  const sigma = Math.sqrt(centre * (centre + 1));
  const fixed = { lower: Math.max(0, centre - width * sigma), upper: centre + width * sigma };
  const alpha = normalSurvival(width);
  const exact = { lower: gapQuantile(alpha, centre), upper: gapQuantile(1 - alpha, centre) };
  const chosen = limits === 'exact' ? exact : fixed;
  const points = gaps.map((gap, at): GapPoint => {
    if (gap === null) return missingPoint(at + 1);
    const beyond = gap < chosen.lower || gap > chosen.upper;
    return {
      i: at + 1,
      value: gap,
      statistic: gap,
      ...chosen,
      signals: beyond ? ['beyond-limits'] : [],
      exact,
      fixed,
    };
  });
  return ok({ centre, sigma, points, parameters: { limits, width, alpha }, result: { exact, fixed } });
};

/** The smallest gap that at least the share `p` of gaps do not exceed, when gaps have mean `centre`. */
const gapQuantile = (p: number, centre: number): number => {
  const logMiss = Math.log1p(-1 / (centre + 1));
  const gap = Math.max(0, Math.ceil(Math.log1p(-p) / logMiss) - 1);
  const reached = (count: number): boolean => -Math.expm1((count + 1) * logMiss) >= p;
  if (gap > 0 && reached(gap - 1)) return gap - 1;
  return reached(gap) ? gap : gap + 1;
};
