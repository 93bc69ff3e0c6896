import { fail, ok, type Result } from '../../result.js';
import { type Capability, capabilityOf, checkTolerance, type Index, type Tolerance } from '../capability.js';
import { readingStep } from '../reading-step.js';
import { capabilityStudy } from './capability-study.js';
import type { StatsAnswer } from './document.js';
import type { StatsOptions } from './options.js';
import type { Table } from './table.js';

/** `capability`: from a column, from groups, or from `--mean --sd --n` alone. */
export const capabilityAnswer = (options: StatsOptions, table: Table | null): Result<StatsAnswer> => {
  const { lower, upper, target } = options;
  const tolerance: Tolerance = {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(target === undefined ? {} : { target }),
  };
  const sound = checkTolerance(tolerance);
  if (!sound.ok)
    return lower === undefined && upper === undefined ? fail('capability needs --lower, --upper or both') : sound;
  const read = capabilityStudy(options, table);
  if (!read.ok) return read;
  const study = read.value;
  const within = capabilityOf({ n: study.n, mean: study.mean, sigma: study.within }, tolerance);
  const overall = capabilityOf({ n: study.n, mean: study.mean, sigma: study.overall }, tolerance);
  if (!within.ok) return fail(within.problem.message, table?.file);
  if (!overall.ok) return fail(overall.problem.message, table?.file);
  const steady = study.steadiness.steady !== false;
  const refusal = steady ? undefined : refusalOf(study.steadiness.why);
  const middle = lower !== undefined && upper !== undefined ? (lower + upper) / 2 : null;
  return ok({
    ...(refusal === undefined ? {} : { refusal }),
    document: {
      method: 'capability',
      n: study.n,
      centre: study.mean,
      sigma: study.within,
      points: study.points,
      parameters: { lower: lower ?? null, upper: upper ?? null, target: target ?? middle, confidence: 0.95 },
      result: {
        ...indices(steady ? within.value : null, overall.value),
        mean: study.mean,
        sigma_within: study.within,
        sigma_overall: study.overall,
        steady: study.steadiness.steady,
        steady_why: study.steadiness.why,
        refusal: refusal ?? null,
        reading_step: stepOf(study.step, lower, upper, study.overall),
      },
    },
  });
};

/** How the step of the loupe compares with the tolerance and the scatter; null when the step does not show. */
const stepOf = (step: number, lower: number | undefined, upper: number | undefined, sigma: number) => {
  if (!(step > 0)) return null;
  const { verdict, why } = readingStep(step, lower === undefined || upper === undefined ? null : upper - lower, sigma);
  return { step, verdict, why };
};

const indices = (within: Capability | null, overall: Capability): Readonly<Record<string, unknown>> => ({
  ...index('cp', within?.both),
  ...index('cpk', within?.nearest),
  ...index('pp', overall.both),
  ...index('ppk', overall.nearest),
  ...index('cpm', within?.onTarget),
  cpl: within?.toLower?.value ?? null,
  cpu: within?.toUpper?.value ?? null,
  cpm_close_low: within?.onTargetClose?.low ?? null,
  cpm_close_high: within?.onTargetClose?.high ?? null,
});

const index = (name: string, found: Index | null | undefined): Readonly<Record<string, number | null>> => ({
  [name]: found?.value ?? null,
  [`${name}_low`]: found?.low ?? null,
  [`${name}_high`]: found?.high ?? null,
});

const refusalOf = (why: readonly string[]): string => {
  const shown = why.slice(0, 3).join('; ') + (why.length > 3 ? `; and ${why.length - 3} more` : '');
  return (
    `the process is not steady (${shown}): no cp, cpk or cpm, they would foretell nothing. ` +
    'pp and ppk say only what these readings did. Find the cause, then measure again'
  );
};
