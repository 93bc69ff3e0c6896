import { normalDensity } from '../spc/normal.js';

/** One thing that may be so: how likely (the parts of one list add up to 1), where, mm, and how surely, mm². */
export type Guess = { readonly share: number; readonly mm: number; readonly variance: number };

/** One station's reading after everything was turned, and where it would stand had the reference stayed. */
export type ReadAfter = { readonly expected: readonly Guess[]; readonly mm: number; readonly variance: number };

/** Chance that a reading shows something else altogether, and how widely such readings lie, mm. */
const ELSE = 0.01;
const ELSE_MM = 3;
const ROUNDS = 3;

/**
 * How far the reference's print really moved: every other reading fell by just that, whatever else was turned.
 * How: the move that all readings together make likeliest, each station with its knob the right way round, the wrong way round, or misread
 * (so that a few knobs that are marked wrong do not pull it), and the reference's knob likewise (`prior`); among the values that one of them
 * alone would say, each then drawn to the mean of the readings that agree with it (EM on a mixture).
 * What the prior says is not in the result. null = nothing read that tells.
 * Source: EM for Gaussian mixtures, Bishop (2006) section 9.2, from memory. Example: two stations left alone read 0.30 lower, a third, which
 * was turned 1.00, reads 2.30 lower as its knob is marked the wrong way round: the reference moved 0.30.
 */
export const sharedMove = (
  prior: readonly Guess[],
  read: readonly ReadAfter[],
): { readonly mm: number; readonly variance: number } | null => {
  let best: { readonly mm: number; readonly variance: number } | null = null;
  let most = Number.NEGATIVE_INFINITY;
  for (const start of [...prior.map((g) => g.mm), ...read.flatMap((r) => r.expected.map((g) => g.mm - r.mm))]) {
    const found = settled(start, read);
    if (found === null) continue;
    const told = Math.log(density(prior, found.mm, 0)) + sum(read.map((r) => Math.log(fits(r, found.mm))));
    if (told > most + 1e-9) [best, most] = [found, told];
  }
  return best;
};

/** Drawn to the mean of the readings that agree with it, each by how surely it does. */
const settled = (start: number, read: readonly ReadAfter[]): { mm: number; variance: number } | null => {
  let mm = start;
  let weight = 0;
  for (let n = 0; n < ROUNDS; n += 1) {
    const parts = read.flatMap((r) => {
      const all = fits(r, mm);
      return r.expected.map((g) => {
        const variance = g.variance + r.variance;
        const agrees = (g.share * (1 - ELSE) * normalDensity(r.mm - g.mm + mm, variance)) / all;
        return { weight: agrees / variance, says: g.mm - r.mm };
      });
    });
    weight = sum(parts.map((p) => p.weight));
    if (!(weight > 1e-9)) return null;
    mm = sum(parts.map((p) => p.weight * p.says)) / weight;
  }
  return { mm, variance: 1 / weight };
};

const fits = (r: ReadAfter, moved_mm: number): number => density(r.expected, r.mm + moved_mm, r.variance);

const density = (guesses: readonly Guess[], mm: number, variance: number): number =>
  (1 - ELSE) * sum(guesses.map((g) => g.share * normalDensity(mm - g.mm, g.variance + variance))) +
  ELSE / (2 * ELSE_MM);

const sum = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0);
