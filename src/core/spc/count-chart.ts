import { fail, ok, type Result } from '../result.js';
import { binomialLimits } from './binomial-limits.js';
import { type Chart, type ChartPoint, missingPoint } from './chart.js';
import { type CountKind, type CountSample, countSamples } from './count-samples.js';
import { type Dispersion, dispersion } from './dispersion.js';
import { type Laney, laney } from './laney.js';
import { normalSurvival } from './normal.js';
import { poissonLowerLimit, poissonUpperLimit } from './poisson-limits.js';
import { zoneOf } from './zone.js';
import { breaks, noMemory, type RuleWord, remember } from './zone-rules.js';

/**
 * Flaws or bad labels counted sample by sample: which count is more (or less) than luck makes it?
 * How: `c` counts flaws in samples of one size, `u` flaws over the labels looked at, `p` bad labels out of those
 * inspected. Limits are exact (Poisson for c and u, binomial for p: a count beyond them has at most the chance a
 * width-sigma normal tail has) or fixed (centre +- width standard errors). Both, and limits widened by the counts' own
 * scatter (`laney`), stand beside each point; the chosen kind gives its signals. A count on a limit is inside.
 * In: counts (whole, 0 or more; null where one is missing) and for u and p the size of each sample.
 * Out: statistic and limits as counts (c) or rates (u, p); sigma of one unit or item under chance.
 * Too few: a refusal below two counts. Errors, each refused: a count that is not a count, a size not above 0, more bad
 * items than inspected, nothing found at all.
 * Source: NIST/SEMATECH e-Handbook 6.3.3.1-2; exact limits from the distributions' tails (see `poisson-limits`).
 * Example: NIST wafers (mean 16) have fixed limits 4 and 28 and a signal at wafer 24; exact limits 5 and 29.
 */
export type Limits = { readonly lower: number; readonly upper: number };

export type CountPoint = ChartPoint & {
  readonly size?: number;
  readonly exact?: Limits;
  readonly fixed?: Limits;
  readonly overdispersed?: Limits;
};

export type CountSettings = {
  readonly kind: CountKind;
  /** Size of every sample, or one size each. Only for u and p. */
  readonly size?: number | readonly (number | null)[];
  readonly limits?: 'exact' | 'fixed';
  readonly width?: number;
  readonly rules?: readonly RuleWord[];
  /** A centre known beforehand (count for c, rate for u and p). */
  readonly centre?: number;
};

export type CountChart = Chart<CountPoint> & { readonly dispersion: Dispersion; readonly sigmaZ: number | null };

export const countChart = (counts: readonly (number | null)[], settings: CountSettings): Result<CountChart> => {
  const { kind, limits = 'exact', width = 3, rules = ['beyond-limits'] } = settings;
  const read = countSamples(counts, settings);
  if (!read.ok) return read;
  const samples = read.value;
  const total = samples.reduce((sum, { count }) => sum + count, 0);
  const totalSize = samples.reduce((sum, { size }) => sum + size, 0);
  const centre = settings.centre ?? total / totalSize;
  if (!(centre > 0) || (kind === 'p' && !(centre < 1))) {
    const what = kind === 'p' && centre >= 1 ? 'every item is bad' : 'all counts are 0';
    return fail(`${what}: there is no scatter to set limits by`);
  }
  const unitVariance = kind === 'p' ? centre * (1 - centre) : centre;
  const spread = dispersion(
    samples.map(({ count, size }) => ({ count, expected: size * centre, variance: size * unitVariance })),
  );
  if (!spread.ok) return spread;
  const byPlace = new Map(samples.map((sample) => [sample.i, sample]));
  const own = laney(
    counts.map((_, at) => {
      const sample = byPlace.get(at + 1);
      return sample === undefined
        ? null
        : { rate: sample.count / sample.size, standardError: Math.sqrt(unitVariance / sample.size) };
    }),
    { centre, width, ...(kind === 'p' ? { ceiling: 1 } : {}) },
  );
  const drawn = draw(counts.length, byPlace, { kind, limits, width, rules, centre, unitVariance, own });
  const sigmaZ = own.ok ? own.value.sigmaZ : null;
  return ok({
    centre,
    sigma: Math.sqrt(unitVariance),
    points: drawn,
    parameters: { limits, width, rules, alpha: normalSurvival(width), centre_known: settings.centre !== undefined },
    result: {
      total,
      total_size: totalSize,
      dispersion_ratio: spread.value.ratio,
      dispersion_p: spread.value.p,
      sigma_z: sigmaZ,
      outside_exact: drawn.filter((point) => outside(point, point.exact)).map(({ i }) => i),
      outside_fixed: drawn.filter((point) => outside(point, point.fixed)).map(({ i }) => i),
      outside_overdispersed: drawn.filter((point) => outside(point, point.overdispersed)).map(({ i }) => i),
    },
    dispersion: spread.value,
    sigmaZ,
  });
};

type Drawing = {
  readonly kind: CountKind;
  readonly limits: 'exact' | 'fixed';
  readonly width: number;
  readonly rules: readonly RuleWord[];
  readonly centre: number;
  readonly unitVariance: number;
  readonly own: Result<Laney>;
};

const draw = (length: number, byPlace: ReadonlyMap<number, CountSample>, drawing: Drawing): readonly CountPoint[] => {
  const { kind, limits, width, rules, centre, unitVariance, own } = drawing;
  const points: CountPoint[] = [];
  const known = new Map<number, Limits>();
  let memory = noMemory;
  for (let i = 1; i <= length; i += 1) {
    const sample = byPlace.get(i);
    if (sample === undefined) {
      points.push(missingPoint(i));
      continue;
    }
    const { count, size } = sample;
    const rate = count / size;
    const standardError = Math.sqrt(unitVariance / size);
    const fixed = {
      lower: Math.max(0, centre - width * standardError),
      upper: Math.min(kind === 'p' ? 1 : Number.POSITIVE_INFINITY, centre + width * standardError),
    };
    const inCounts = known.get(size) ?? exactLimits(kind, size, centre, width);
    known.set(size, inCounts);
    const exact = { lower: inCounts.lower / size, upper: inCounts.upper / size };
    const widened = own.ok ? own.value.limits[i - 1] : null;
    memory = remember(memory, rate, zoneOf({ centre, sigma: standardError, width }, rate));
    const beyond =
      limits === 'exact' ? count > inCounts.upper || count < inCounts.lower : rate > fixed.upper || rate < fixed.lower;
    const after = memory;
    points.push({
      i,
      value: count,
      statistic: rate,
      ...(limits === 'exact' ? exact : fixed),
      signals: rules.filter((rule) => (rule === 'beyond-limits' ? beyond : breaks(rule, after))),
      ...(kind === 'c' ? {} : { size }),
      exact,
      fixed,
      ...(widened === null || widened === undefined ? {} : { overdispersed: widened }),
    });
  }
  return points;
};

const exactLimits = (kind: CountKind, size: number, centre: number, width: number): Limits => {
  const alpha = normalSurvival(width);
  if (kind === 'p') return binomialLimits(size, centre, alpha);
  return { lower: poissonLowerLimit(size * centre, alpha), upper: poissonUpperLimit(size * centre, alpha) };
};

const outside = (point: CountPoint, limits: Limits | undefined): boolean =>
  point.statistic !== null &&
  limits !== undefined &&
  (point.statistic > limits.upper || point.statistic < limits.lower);
