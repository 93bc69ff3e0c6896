import { fail, ok, type Result } from '../result.js';
import { DEFAULT_WINDOW } from './changepoint.js';
import type { ChangeShape } from './changepoint-fit.js';
import { changepointRunLength, changepointThreshold } from './changepoint-threshold.js';
import { limitForRunLength } from './limit-for-run-length.js';
import { changepointRunLengthFormula } from './run-length-changepoint.js';
import { cusumRunLength } from './run-length-cusum.js';
import { ewmaRunLength } from './run-length-ewma.js';
import { zoneRunLength } from './run-length-zone.js';
import type { RuleWord } from './zone-rules.js';

/**
 * How often a chart speaks: the mean number of readings until its first signal, for steady shifts or for drifts that
 * begin with the first reading; or, the other way round, the limit that gives an asked run length without any shift.
 * How: `ewmaRunLength` and `cusumRunLength` (integral equations), `zoneRunLength` (Markov chain, also for individuals),
 * `changepointRunLength` (simulation with seeded numbers, its false-signal rate from the table of the threshold).
 * In: everything in sigmas; shifts, or drifts a reading (the first reading is off by one drift), zero-state. Two-sided
 * and with fixed limits unless asked otherwise. Out: one run length for each shift or drift, and the limit they are for
 * (width of individuals, zone and ewma; decision of cusum; threshold of changepoint).
 * Errors, in words: shifts and drifts together, an option out of range, a limit that does not exist, a drift that takes
 * too long.
 * Source: see each. Example: cusum, slack 0.5, asked 370: limit 4.7738.
 */
export type RunLengthOptions = {
  readonly chart: 'individuals' | 'zone' | 'ewma' | 'cusum' | 'changepoint';
  readonly shift?: readonly number[];
  readonly drift?: readonly number[];
  readonly asked?: number;
  readonly weight?: number;
  readonly width?: number;
  readonly limits?: 'fixed' | 'exact';
  readonly slack?: number;
  readonly decision?: number;
  readonly headStart?: number;
  readonly sides?: 1 | 2;
  readonly rules?: readonly RuleWord[];
  readonly window?: number;
  readonly shapes?: readonly ChangeShape[];
};

export type RunLengths = {
  readonly shift: readonly number[];
  readonly drift: readonly number[];
  readonly run_length: readonly number[];
  readonly limit: number;
  /** Of the run lengths found by simulation; absent where they are computed. */
  readonly standard_error?: readonly number[];
  /** changepoint: the published asymptotic formula for steps without a shift, at the limit. */
  readonly formula?: number;
};

export const runLength = (options: RunLengthOptions): Result<RunLengths> => {
  const bad = badOption(options);
  if (bad !== null) return fail(bad);
  const limit = limitOf(options);
  if (!limit.ok) return limit;
  const drift = options.drift ?? [];
  const shift = options.shift ?? (drift.length > 0 ? [] : [0]);
  const found = [
    ...shift.map((value) => lengthOf(options, limit.value, value, 0)),
    ...drift.map((value) => lengthOf(options, limit.value, 0, value)),
  ];
  const missing = found.findIndex(({ length }) => !Number.isFinite(length));
  if (missing >= 0) return fail(noAnswer([...shift, ...drift][missing] ?? 0, missing >= shift.length));
  const run_length = found.map(({ length }) => length);
  const errors = found.flatMap(({ error }) => (error === null ? [] : [error]));
  const base = { shift, drift, run_length, limit: limit.value };
  if (options.chart !== 'changepoint') return ok(base);
  const formula = changepointRunLengthFormula(limit.value, options.window ?? DEFAULT_WINDOW);
  return ok({ ...base, standard_error: errors, formula });
};

type Found = { readonly length: number; readonly error: number | null };

const lengthOf = (options: RunLengthOptions, limit: number, shift: number, drift: number): Found => {
  const { chart, weight = 0.2, slack = 0.5, sides = 2, headStart = 0, limits = 'fixed', window, shapes } = options;
  const moved = { shift, drift };
  switch (chart) {
    case 'ewma':
      return computed(ewmaRunLength({ ...moved, weight, width: limit, sides, headStart, limits }));
    case 'cusum':
      return computed(cusumRunLength({ ...moved, slack, decision: limit, sides, headStart }));
    case 'changepoint':
      return changepointRunLength(limit, { ...moved, ...(window && { window }), ...(shapes && { shapes }) });
    default:
      return computed(zoneRunLength({ ...moved, rules: rulesOf(options), width: limit, sides }));
  }
};

const computed = (length: number): Found => ({ length, error: null });

const rulesOf = ({ rules }: RunLengthOptions): readonly RuleWord[] => rules ?? ['beyond-limits'];

const limitOf = (options: RunLengthOptions): Result<number> => {
  const { chart, asked, width = 3, decision = 5, window, shapes } = options;
  const given = chart === 'cusum' ? decision : width;
  if (chart === 'changepoint' && (asked !== undefined || options.width === undefined)) {
    return ok(changepointThreshold(asked ?? 370, { ...(window && { window }), ...(shapes && { shapes }) }));
  }
  if (asked === undefined) return ok(given);
  const found = limitForRunLength((limit) => lengthOf(options, limit, 0, 0).length, asked, given);
  return found === null ? fail(`no limit of this chart gives a run length of ${asked} readings`) : ok(found);
};

const noAnswer = (value: number, isDrift: boolean): string =>
  isDrift
    ? `the run length for a drift of ${value} is not computed: the run is too long`
    : `the run length for a shift of ${value} is too large to compute`;

const badOption = (options: RunLengthOptions): string | null => {
  const { weight = 0.2, width = 3, slack = 0.5, decision = 5, headStart = 0, asked, chart } = options;
  if (options.shift !== undefined && options.drift !== undefined) return 'give shifts or drifts, not both';
  const odd = [...(options.shift ?? []), ...(options.drift ?? [])].find((value) => !Number.isFinite(value));
  if (
    options.chart === 'changepoint' &&
    options.width !== undefined &&
    !(options.width >= 1.5 && options.width <= 12)
  ) {
    return `the threshold of a changepoint must lie from 1.5 to 12, got ${options.width}`;
  }
  if (odd !== undefined) return `a shift or drift must be a number, got ${odd}`;
  if (options.sides === 1 && (options.drift ?? []).some((value) => value < 0)) {
    return 'a one-sided chart watches upward and may never see a drift downward; give a drift above 0';
  }
  if (!(weight > 0 && weight <= 1)) return `the weight must lie above 0 and at most 1, got ${weight}`;
  if (!(width > 0 && Number.isFinite(width))) return `the width must be above 0, got ${width}`;
  if (!(slack >= 0 && Number.isFinite(slack))) return `the slack must be 0 or more sigmas, got ${slack}`;
  if (!(decision > 0 && Number.isFinite(decision))) return `the decision limit must be above 0, got ${decision}`;
  if (asked !== undefined && !(asked > 1 && Number.isFinite(asked)))
    return `the asked run length must be above 1, got ${asked}`;
  if (!Number.isFinite(headStart)) return `the head start must be a number, got ${headStart}`;
  if (chart === 'cusum' && !(headStart >= 0 && (asked !== undefined || headStart < decision))) {
    return `the head start must lie from 0 to below the decision limit ${decision}, got ${headStart}`;
  }
  return null;
};
