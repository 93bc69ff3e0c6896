import { chisquareSurvival, fCdf, tCdf } from './distributions.js';
import { movingRange } from './moving-range.js';
import { normalQuantile, normalSurvival } from './normal.js';
import { repeatedStep } from './repeated-step.js';
import { roundingVariance, withRounding } from './rounded-scatter.js';
import { summary } from './summary.js';

/**
 * Is the process steady enough that its past scatter foretells its future? Before that, capability means nothing.
 * How: questions that together refuse about 1 steady record in 100: is a reading (or the mean
 * of a group) farther out than so many readings explain; do neighbours differ less (moved, drifting) or more
 * (over-adjusted) than readings in random order, by the mean square successive difference; is there one place that
 * parts the record into two levels farther apart than chance makes them (largest t, times the places tried); in groups, do the
 * groups differ more than readings within them (F test), or one group scatter more than the others (chi-square).
 * Readings that repeat on a coarse step are given half a step and the rounding variance: one step aside is no spike
 * (with a scatter below a third of the step up to 3 steady records in 100 are refused).
 * In: readings in the order they were made (null where missing), or groups of one size. Out: what speaks against it,
 * in words; `null` in `steady` when there are too few readings (below 8, or 3 groups) to tell.
 * Source: J. von Neumann (1941), Annals of Mathematical Statistics 12, 367-395 (successive differences);
 * NIST/SEMATECH e-Handbook 6.1.6 (a capability study needs a process in control); width for n readings by C. E.
 * Bonferroni's inequality. Example: twenty readings that step by 3 sigma half way are not steady.
 */
export type Steadiness = { readonly steady: boolean | null; readonly why: readonly string[] };

const ALPHA = 1 / 300;

export const steadiness = (values: readonly (number | null)[]): Steadiness => {
  const read = values.flatMap((value, at) => (value === null ? [] : [{ at: at + 1, value }]));
  const described = summary(read.map(({ value }) => value));
  if (read.length < 8 || !described.ok || !(described.value.sd > 0)) {
    return { steady: null, why: ['too few readings to tell whether the process is steady (8 are needed)'] };
  }
  const { mean } = described.value;
  const step = repeatedStep(read.map(({ value }) => value));
  const scatter = movingRange(read.map(({ value }) => value));
  const sigma = scatter.ok ? scatter.value.sigma : described.value.sd;
  const why = [
    ...far(read, mean, sigma, step),
    ...order(
      read.map(({ value }) => value),
      'reading',
      step,
    ),
  ];
  return { steady: why.length === 0, why };
};

export const steadinessOfGroups = (groups: readonly (readonly number[])[]): Steadiness => {
  const size = groups[0]?.length ?? 0;
  const count = groups.length;
  if (count < 3 || size < 2) {
    return { steady: null, why: ['too few groups to tell whether the process is steady (3 are needed)'] };
  }
  const means = groups.map((group) => group.reduce((sum, value) => sum + value, 0) / size);
  const squares = groups.map((group, i) => group.reduce((sum, value) => sum + (value - (means[i] ?? 0)) ** 2, 0));
  const within = squares.reduce((sum, square) => sum + square, 0) / (count * (size - 1));
  if (!(within > 0)) return { steady: null, why: ['readings within a group never differ: too coarse to tell'] };
  const grand = means.reduce((sum, mean) => sum + mean, 0) / count;
  const between = (size * means.reduce((sum, mean) => sum + (mean - grand) ** 2, 0)) / (count - 1);
  const p = fCdf(within / between, count * (size - 1), count - 1);
  const why: string[] = [];
  if (p < ALPHA)
    why.push(`the groups differ more than the readings within them (F ${show(between / within)}, p ${show(p)})`);
  for (const [i, square] of squares.entries()) {
    if (chisquareSurvival(square / within, size - 1) < ALPHA / count) {
      why.push(`group ${i + 1} scatters far more than the others`);
    }
  }
  if (count >= 8) why.push(...order(means, 'group mean'));
  return { steady: why.length === 0, why };
};

type Placed = { readonly at: number; readonly value: number };

const far = (read: readonly Placed[], mean: number, sigma: number, step: number): readonly string[] => {
  const reach = Math.max(3, -normalQuantile(ALPHA / (2 * read.length))) * withRounding(sigma, step) + step / 2;
  return read
    .filter(({ value }) => Math.abs(value - mean) > reach)
    .map(
      ({ at, value }) =>
        `reading ${at} (${show(value)}) is ${show(Math.abs(value - mean) / sigma)} sigma from the mean`,
    );
};

const order = (values: readonly number[], what: string, step = 0): readonly string[] => {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const steps = values.slice(1).reduce((sum, value, i) => sum + (value - (values[i] ?? value)) ** 2, 0);
  if (!(squares > 0)) return [];
  const parted = largestStep(values, mean, squares, roundingVariance(step));
  if (2 * (n - 1) * tCdf(-parted.t, n - 2) < ALPHA) {
    return [`from ${what} ${parted.at + 1} on the level is another one (t ${show(parted.t)}): it stepped or drifts`];
  }
  const z = (1 - steps / (2 * squares)) / Math.sqrt((n - 2) / (n * n - 1));
  if (2 * normalSurvival(Math.abs(z)) >= ALPHA) return [];
  return [
    z > 0
      ? `each ${what} resembles the one before too much: it moved, drifts or wanders (z ${show(z)})`
      : `each ${what} swings back on the one before: it looks over-adjusted (z ${show(z)})`,
  ];
};

/** Where two levels fit best, and Student's t for their difference. `at` readings stand before the step. */
const largestStep = (
  values: readonly number[],
  mean: number,
  squares: number,
  least: number,
): { at: number; t: number } => {
  const n = values.length;
  let best = { at: 1, between: 0 };
  let sum = 0;
  for (let at = 1; at < n; at += 1) {
    sum += (values[at - 1] ?? mean) - mean;
    const between = (sum * sum * n) / (at * (n - at));
    if (between > best.between) best = { at, between };
  }
  const within = Math.max(least, (squares - best.between) / (n - 2));
  return { at: best.at, t: within > 0 ? Math.sqrt(best.between / within) : Number.POSITIVE_INFINITY };
};

const show = (value: number): string => String(Number(value.toPrecision(3)));
