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
 * those are (squared coefficient of variation between plates by moments, pulled toward a wide belief).
 */
export const rateOfOthers = (
  plates: readonly { readonly id: string; readonly rate: Rate }[],
  without: string,
): Rate => {
  let { flaws, labels } = ANY_PLATE;
  let counted = 0;
  for (const { id, rate: one } of plates) {
    if (one.labels <= 0 || id === without) continue;
    flaws += one.flaws;
    labels += one.labels;
    counted += 1;
  }
  const rate = flaws / labels;
  let excess = 0;
  for (const { id, rate: one } of plates) {
    const mean = one.labels * rate;
    if (mean > 0 && id !== without) excess += ((one.flaws - mean) ** 2 - mean) / mean ** 2;
  }
  const spread = Math.max(LEAST_SPREAD, (Math.max(0, excess) + BELIEVED_SPREAD * 2) / (counted + 2));
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
