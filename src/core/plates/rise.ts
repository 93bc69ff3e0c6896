import type { Rate, UsualRate } from './usual-rate.js';

/** One look at a plate: flaws in labels (null = not counted) and the log evidence its grade carries. */
export type Look = {
  readonly check: number | string;
  readonly web_m: number;
  readonly flaws: number;
  readonly labels: number;
  readonly grade_evidence: number;
  /** What it says of the scatter; see usual-rate. */
  readonly square: number;
};

/** Evidence that the plate has been getting dirty, as odds summed over when it may have begun; and the likeliest beginning. */
export type Rise = { readonly evidence: number; readonly since: Look | null; readonly rate: number };

const TIMES = [2.5, 5] as const;

/**
 * Has the flaw rate risen, since when? Catches what is too gradual for a limit on one count.
 * How: for every check it may have begun at, the likelihood of the counts since being 2, 4 or 8 times as frequent against no
 * change, the usual rate itself unknown (gamma belief) and integrated out, so nothing need be known beforehand; the evidence
 * of grades multiplies in; summed over beginnings (Shiryaev–Roberts form of the CUSUM). In control the sum grows by 1 a check
 * on average, so a threshold of A gives a false flag no oftener than once in A checks. `spread`: variance over Poisson variance
 * (1 = Poisson); counts that scatter so much weigh so much less, flaws and labels alike, which leaves the rate as it is.
 * Looks oldest first; none: no evidence.
 * Source: Pollak (1985), Ann. Statist. 13, 206–227, and quasi-likelihood, Wedderburn (1974), Biometrika 61, 439–447, from memory;
 * mixture and closed form derived here.
 * Example: 25 clean looks at 1 flaw in 5 labels, then 5 and 5 flaws in 5: evidence well above 1000.
 */
export const riseOf = (usual: Rate, looks: readonly Look[], spread = 1): Rise => {
  let flawsAll = usual.flaws / spread;
  let labelsAll = usual.labels / spread;
  for (const look of looks) {
    flawsAll += look.flaws / spread;
    labelsAll += look.labels / spread;
  }
  let evidence = 0;
  let best = 0;
  let since: Look | null = null;
  let rate = flawsAll / labelsAll;
  let flaws = 0;
  let labels = 0;
  let grades = 0;
  for (let i = looks.length - 1; i >= 0; i -= 1) {
    const look = looks[i];
    if (look === undefined) continue;
    flaws += look.flaws / spread;
    labels += look.labels / spread;
    grades += look.grade_evidence;
    let odds = 0;
    for (const times of TIMES) {
      const counted = flaws * Math.log(times) + flawsAll * Math.log(labelsAll / (labelsAll + (times - 1) * labels));
      odds += Math.exp(Math.min(200, counted + grades)) / TIMES.length;
    }
    evidence += odds;
    if (odds > best) {
      best = odds;
      since = look;
      rate = labels > 0 ? flaws / labels : rate;
    }
  }
  return { evidence, since, rate };
};

/** Squares of all but the last few looks, so that a rise does not pass for scatter while it is still new. */
export const squaresSettled = (
  usual: UsualRate,
  looks: readonly Look[],
): { readonly squares: number; readonly checks: number } => {
  let { squares, checks } = usual;
  for (let i = 0; i < looks.length - FRESH; i += 1) {
    const look = looks[i];
    if (look === undefined || look.labels <= 0) continue;
    squares += look.square;
    checks += 1;
  }
  return { squares, checks };
};

const FRESH = 4;
