/**
 * Which change, begun at which reading, explains the readings best: a step, or a ramp that goes on.
 * How: for every reading the change may have begun at, the share of the sum of squares that the change explains, from
 * two sums built up backwards, so the whole search costs a few operations a place. Step: the mean from there on differs
 * from the mean before. Ramp: the first reading of the change is off by one slope, the next by two, and so on. With the
 * aim known the level before is the aim; otherwise it is fitted from the readings before, of which two are wanted.
 * In: the newest readings as deviations from some origin (the aim if known), with the count and the sum of those before
 * them. Out: the best change, or null when there is none to fit.
 * Source: D. M. Hawkins, P. Qiu and C. W. Kang (2003), J. Quality Technology 35, 355-366 (step); for a ramp the same
 * regression on time since the change. Example: 0 0 0 0 1 1 1 with the aim 0: a step since the 5th, explaining 3.
 */
export type ChangeShape = 'step' | 'ramp';

export type Older = { readonly n: number; readonly sum: number };

export type ChangeFit = {
  readonly shape: ChangeShape;
  /** Readings since the change began, itself counted. */
  readonly length: number;
  /** Height of the step, or slope of the ramp a reading. */
  readonly rate: number;
  readonly explained: number;
};

export const fitChange = (
  recent: readonly number[],
  older: Older,
  aimKnown: boolean,
  shapes: readonly ChangeShape[],
): ChangeFit | null => {
  const steps = shapes.includes('step');
  const ramps = shapes.includes('ramp');
  const n = older.n + recent.length;
  const longest = aimKnown ? recent.length : Math.min(recent.length, n - 2);
  const mean = aimKnown ? 0 : (older.sum + recent.reduce((sum, value) => sum + value, 0)) / n;
  let sum = 0;
  let slanted = 0;
  let best = -1;
  let length = 0;
  let isStep = steps;
  for (let m = 1; m <= longest; m += 1) {
    sum += (recent[recent.length - m] ?? 0) - mean;
    slanted += sum;
    if (steps) {
      const explained = (sum * sum) / (aimKnown ? m : m * (1 - m / n));
      if (explained > best) {
        best = explained;
        length = m;
        isStep = true;
      }
    }
    if (ramps && m > 1) {
      const explained = (slanted * slanted) / rampSquares(m, aimKnown ? 0 : n);
      if (explained > best) {
        best = explained;
        length = m;
        isStep = false;
      }
    }
  }
  if (length === 0) return null;
  return {
    shape: isStep ? 'step' : 'ramp',
    length,
    rate: rateOf(recent, mean, length, isStep, aimKnown ? 0 : n),
    explained: best,
  };
};

/** Sum of squares of 0 ... 0 1 2 ... m, about its mean over n readings (n = 0: about zero). */
const rampSquares = (m: number, n: number): number => {
  const about = (m * (m + 1) * (2 * m + 1)) / 6;
  const total = (m * (m + 1)) / 2;
  return n === 0 ? about : about - (total * total) / n;
};

const rateOf = (recent: readonly number[], mean: number, length: number, isStep: boolean, n: number): number => {
  let sum = 0;
  let slanted = 0;
  for (let m = 1; m <= length; m += 1) {
    sum += (recent[recent.length - m] ?? 0) - mean;
    slanted += sum;
  }
  if (isStep) return sum / (n === 0 ? length : length * (1 - length / n));
  return slanted / rampSquares(length, n);
};
