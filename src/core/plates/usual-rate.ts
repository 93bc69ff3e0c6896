/**
 * What is known of a clean plate's flaw rate on this job: gamma belief as flaws in labels; and how much counts scatter against
 * Poisson. Carried across runs in the shop file.
 */
export type UsualRate = {
  readonly flaws: number;
  readonly labels: number;
  /** Sum and number of squared standardised counts: their mean is the dispersion, 1 = Poisson. */
  readonly squares: number;
  readonly checks: number;
};

/** Before any count: about one flaw in five labels, believed as much as one look at five labels. Invented default, not a standard. */
export const UNKNOWN_RATE: UsualRate = { flaws: 1, labels: 5, squares: 0, checks: 0 };

const DISPERSION_WORTH = 20;
const PRESS_WORTH = 8;
const SQUARE_CAP = 12;

/** The belief after one more count of a clean plate; `square` as `squareOf` gave it when it was counted. */
export const learnCount = (rate: UsualRate, flaws: number, labels: number, square: number): UsualRate => ({
  flaws: rate.flaws + flaws,
  labels: rate.labels + labels,
  squares: rate.squares + square,
  checks: rate.checks + 1,
});

/** Squared distance of a count from what was expected of it, in units of its expected variance; 1 on average when Poisson. */
export const squareOf = (known: Pick<UsualRate, 'flaws' | 'labels'>, flaws: number, labels: number): number => {
  const mean = (labels * known.flaws) / known.labels;
  return Math.min(SQUARE_CAP, (flaws - mean) ** 2 / (mean * (1 + labels / known.labels)));
};

/**
 * Variance over Poisson variance, at least 1: the whole press's, pulled toward 1 until checks have shown otherwise, and the
 * plate's own pulled toward the press's.
 */
export const dispersionOf = (own: Squares, press: Squares): number => {
  const shared = (PRESS_WORTH + press.squares) / (PRESS_WORTH + press.checks);
  return Math.max(1, (DISPERSION_WORTH * Math.max(1, shared) + own.squares) / (DISPERSION_WORTH + own.checks));
};

export type Squares = { readonly squares: number; readonly checks: number };
