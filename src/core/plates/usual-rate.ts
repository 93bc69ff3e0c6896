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

/** Nothing counted yet on this plate. */
export const UNKNOWN_RATE: UsualRate = { flaws: 0, labels: 0, squares: 0, checks: 0 };

/** A rate as so many flaws in so many labels. */
export type Rate = Pick<UsualRate, 'flaws' | 'labels'>;

/** Before any count on any plate: about one flaw in five labels, believed as much as one look at five labels. Invented default. */
const ANY_PLATE: Rate = { flaws: 1, labels: 5 };

const LEAST_SPREAD = 0.02;
const BELIEVED_SPREAD = 0.3;

/**
 * What to believe of a plate before its own counts: the rate of the other plates of the press, worth the more the more alike
 * those are (squared coefficient of variation between plates by moments, pulled toward a wide belief). `others`: each plate's
 * flaws and labels, without the plate asked about.
 */
export const rateOfOthers = (others: readonly Rate[]): Rate => {
  const counted = others.filter((one) => one.labels > 0);
  const flaws = counted.reduce((sum, one) => sum + one.flaws, ANY_PLATE.flaws);
  const labels = counted.reduce((sum, one) => sum + one.labels, ANY_PLATE.labels);
  const rate = flaws / labels;
  const excess = counted.reduce(
    (sum, one) => sum + ((one.flaws - one.labels * rate) ** 2 - one.labels * rate) / (one.labels * rate) ** 2,
    0,
  );
  const spread = Math.max(LEAST_SPREAD, (Math.max(0, excess) + BELIEVED_SPREAD * 2) / (counted.length + 2));
  const worth = Math.min(1 / spread, flaws);
  return { flaws: worth, labels: worth / rate };
};

const OWN_WORTH = 60;
const PRESS_WORTH = 8;
const SQUARE_CAP = 40;

/** The belief after one more count of a clean plate; `square` as `squareOf` gave it when it was counted. */
export const learnCount = (rate: UsualRate, flaws: number, labels: number, square: number): UsualRate => ({
  flaws: rate.flaws + flaws,
  labels: rate.labels + labels,
  squares: rate.squares + square,
  checks: rate.checks + 1,
});

/** Squared distance of a count from what was expected of it, in units of its expected variance; 1 on average when Poisson. */
export const squareOf = (known: Rate, flaws: number, labels: number): number => {
  const mean = (labels * known.flaws) / known.labels;
  return Math.min(SQUARE_CAP, (flaws - mean) ** 2 / (mean * (1 + labels / known.labels)));
};

/**
 * Variance over Poisson variance, at least 1: the whole press's, less what chance alone may have added to it, and the plate's own
 * pulled toward the press's.
 */
export const dispersionOf = (own: Squares, press: Squares): number => {
  const n = PRESS_WORTH + press.checks;
  const shared = Math.max(1, (PRESS_WORTH + press.squares) / n - 0.7 * Math.sqrt(2 / n));
  return Math.max(
    1,
    (OWN_WORTH * shared + own.squares) / (OWN_WORTH + own.checks) -
      0.7 * Math.sqrt(2 / (OWN_WORTH + own.checks)) * (1 - OWN_WORTH / (OWN_WORTH + own.checks)),
  );
};

export type Squares = { readonly squares: number; readonly checks: number };
