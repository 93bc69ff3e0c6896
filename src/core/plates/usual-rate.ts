/**
 * What is known of a clean plate's flaw rate on this job: gamma belief as flaws in labels; and how much counts scatter against
 * Poisson. Carried across runs in the shop file.
 */
export type UsualRate = {
  readonly flaws: number;
  readonly labels: number;
  /** Sum of what each count said of the scatter (see `squareOf`), and how many: their mean is the dispersion, 1 = Poisson. */
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

/**
 * Before any count: flaws come in clusters, so variance is taken for 1.6 × Poisson, a belief worth 20 counts. Invented; 120 counts
 * of a press that is Poisson bring it to 1.2, 600 to 1.1. And how many counts a plate must have for its own scatter to weigh as much
 * as the press's.
 */
const BELIEVED = { dispersion: 1.6, worth: 20 } as const;
const OWN_WORTH = 400;
const SQUARE_CAP = 40;

/** The belief after one more count of a clean plate; `square` as `squareOf` gave it when it was counted. */
export const learnCount = (rate: UsualRate, flaws: number, labels: number, square: number): UsualRate => ({
  flaws: rate.flaws + flaws,
  labels: rate.labels + labels,
  squares: rate.squares + square,
  checks: rate.checks + 1,
});

/**
 * What one count says of the scatter: 1 + ((count − mean)² − count) / mean, whose mean is the dispersion and whose variance is 2 for
 * Poisson counts however low their mean (the plain square over the mean has 2 + 1 / mean). What is not known of the mean is taken
 * off the square. `known` as flaws in labels; may be below 0; one wild count is capped.
 * Source: score test of Poisson against negative binomial, Dean and Lawless (1989), J. Amer. Statist. Assoc. 84, 467–472, from
 * memory. Example: 5 flaws where 2 in 10 labels were usual, 5 labels: 1 + (16 / 1.5 − 5) / 1 = 6.67.
 */
export const squareOf = (known: Rate, flaws: number, labels: number): number => {
  const mean = (labels * known.flaws) / known.labels;
  return Math.min(SQUARE_CAP, 1 + ((flaws - mean) ** 2 / (1 + labels / known.labels) - flaws) / mean);
};

/**
 * Variance over Poisson variance to reckon with, at least 1: the belief and what the whole press has shown, one standard error
 * upwards, since a scatter taken for too small cries wolf; then the plate's own, which weighs more the more it was counted.
 * No counts: 1.6 and its standard error.
 */
export const dispersionOf = (own: Squares, press: Squares): number => {
  const n = BELIEVED.worth + press.checks;
  const shared = (BELIEVED.dispersion * BELIEVED.worth + press.squares) / n + Math.sqrt(2 / n);
  return Math.max(1, (OWN_WORTH * shared + own.squares) / (OWN_WORTH + own.checks));
};

export type Squares = { readonly squares: number; readonly checks: number };
