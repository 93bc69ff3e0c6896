import type { Guess } from './shared-move.js';

/**
 * Where one print stands on one axis in make-ready, and what its knob does, learned together from readings and known turns. Plain data.
 * `mean`: place, mm; print movement for 1 mm turned; slack when the knob is reversed, mm. `cov` row by row. Some accounts take the knob's
 * mark at its word, others have it the other way round; of each, some hold that a sample showed something else altogether.
 */
export type PlaceFilter = {
  readonly accounts: readonly PlaceAccount[];
  readonly belief: KnobBelief;
  readonly read: boolean;
  /** Which way the knob was turned last, by its mark; null = not in this make-ready. */
  readonly last: 1 | -1 | null;
  /** How often and how far it was turned in all, by its mark, mm. */
  readonly turns: number;
  readonly hand_mm: number;
};

type Three = readonly [number, number, number];
type PlaceAccount = {
  readonly sense: 1 | -1;
  readonly log: number;
  readonly mean: Three;
  readonly cov: readonly Three[];
};

/** What is believed of a knob before it is turned. */
export type KnobBelief = {
  readonly gain: number;
  readonly gain_sd: number;
  readonly slack_mm: number;
  readonly slack_sd_mm: number;
  /** Chance that its mark says the opposite of what is taken. */
  readonly reversed: number;
};

/** One turn: whole teeth are exact, the knob's part is not; mm as the print was meant to move, the knob taken to go `told` by its mark. */
export type PlaceTurn = { readonly teeth_mm: number; readonly knob_mm: number; readonly told: 1 | -1 };

export type Place = {
  readonly mm: number;
  readonly sd_mm: number;
  readonly gain: number;
  readonly slack_mm: number;
  /** −1: the knob moves the print the other way than its mark is taken to say. */
  readonly sense: 1 | -1;
};

const UNKNOWN_MM = 100;
/** A hand does not stop on the mark to the hair, and now and then goes a division too far; common practice, no source. */
const HAND_SHARE = 0.02;
const HAND_MM = 0.008;
/** Which side of its slack a knob stands on before its first turn is not known, 1 sigma, mm. */
const FIRST_TURN_MM = 0.015;
/** Chance that a sample after a turn shows something else altogether: the hand erred, or the loupe was misread. */
const ELSE = 0.01;
const ELSE_MM = 3;
const MOST_ACCOUNTS = 6;
/** Beyond these a knob is not understood and is not planned with. */
const LEAST_GAIN = 0.4;
const MOST_GAIN = 1.8;

/** A station that nobody read or turned yet. */
export const beginPlace = (knob: KnobBelief): PlaceFilter => ({
  belief: knob,
  read: false,
  last: null,
  turns: 0,
  hand_mm: 0,
  accounts: ([1, -1] as const).map((sense) => ({
    sense,
    log: Math.log(sense === 1 ? 1 - knob.reversed : Math.max(knob.reversed, 1e-9)),
    mean: [0, knob.gain, knob.slack_mm],
    cov: knobCov(knob, UNKNOWN_MM ** 2),
  })),
});

/** The same where the place is known: 0 by agreement (the reference, which nothing is read of but its own turns). */
export const knownPlace = (f: PlaceFilter): PlaceFilter => ({
  ...f,
  read: true,
  accounts: f.accounts.map((a) => ({ ...a, mean: [0, a.mean[1], a.mean[2]], cov: apartFromPlace(a, 1e-9) })),
});

/** After a turn: the place goes by gain × turned, less the slack where the direction was reversed. */
export const turnedPlace = (f: PlaceFilter, { teeth_mm, knob_mm, told }: PlaceTurn): PlaceFilter => {
  if (knob_mm === 0) return shiftedPlace(f, teeth_mm, 0);
  const way = knob_mm * told > 0 ? 1 : -1;
  const reversed = f.last !== null && f.last !== way;
  const rough = (HAND_SHARE * knob_mm) ** 2 + HAND_MM ** 2 + (f.last === null ? FIRST_TURN_MM ** 2 : 0);
  return {
    ...f,
    last: way,
    turns: f.turns + 1,
    hand_mm: f.hand_mm + knob_mm * told,
    accounts: f.accounts.map((a) => {
      const sign = told * a.sense;
      return carried(a, teeth_mm, [1, sign * knob_mm, reversed ? -sign * Math.sign(knob_mm) : 0], rough);
    }),
  };
};

/** After something else moved its reading by so much, known to `variance` (mm²). */
export const shiftedPlace = (f: PlaceFilter, mm: number, variance: number): PlaceFilter => ({
  ...f,
  accounts: f.accounts.map((a) => carried(a, mm, [1, 0, 0], variance)),
});

/**
 * After a reading: the linear Gaussian update (Kalman) of each account, weighed by how well it foretold the reading (Bayes). Beside each
 * goes the account that something else was seen (a hand erred, or a label was misread, now or before): it has the place from this reading, and
 * nothing of the knob; the readings to come tell which of them was right. The likeliest few are kept.
 * Source: Bayesian linear regression, e.g. Bishop (2006) section 3.3, and P. J. Harrison and C. F. Stevens (1976), several models with
 * pruning, both from memory. Example: at 1.00 ± 0.03, turned −0.50 on a knob of gain 1 ± 0.3, read 0.60: the knob gives 80 %, the print stands
 * at 0.60.
 */
export const readPlace = (f: PlaceFilter, mm: number, variance: number): PlaceFilter => {
  const accounts = f.accounts.flatMap((a) => [
    ...foretold(a, mm, variance, f.read),
    ...(f.read ? [somethingElse(a, f.belief, mm, variance)] : []),
  ]);
  return { ...f, read: true, accounts: accounts.toSorted((a, b) => b.log - a.log).slice(0, MOST_ACCOUNTS) };
};

/** The account as this reading bears it out; none where no knob does such a thing. */
const foretold = (a: PlaceAccount, mm: number, variance: number, read: boolean): readonly PlaceAccount[] => {
  const [s0 = 0, s1 = 0, s2 = 0] = a.cov.map((row) => row[0]);
  const v = s0 + variance;
  const miss = mm - a.mean[0];
  const pull: Three = [s0 / v, s1 / v, s2 / v];
  const gain = a.mean[1] + pull[1] * miss;
  if (read && (gain < LEAST_GAIN || gain > MOST_GAIN)) return [];
  const told = read ? -(miss * miss) / (2 * v) - 0.5 * Math.log(2 * Math.PI * v) + Math.log(1 - ELSE) : 0;
  return [
    {
      ...a,
      log: a.log + told,
      mean: [a.mean[0] + pull[0] * miss, gain, a.mean[2] + pull[2] * miss],
      cov: a.cov.map(
        (row, i): Three => [row[0] - (pull[i] ?? 0) * s0, row[1] - (pull[i] ?? 0) * s1, row[2] - (pull[i] ?? 0) * s2],
      ),
    },
  ];
};

const somethingElse = (a: PlaceAccount, knob: KnobBelief, mm: number, variance: number): PlaceAccount => ({
  sense: a.sense,
  log: a.log + Math.log(ELSE / (2 * ELSE_MM)),
  mean: [mm, knob.gain, knob.slack_mm],
  cov: knobCov(knob, variance),
});

const knobCov = ({ gain_sd, slack_sd_mm }: KnobBelief, place: number): readonly Three[] => [
  [place, 0, 0],
  [0, gain_sd ** 2, 0],
  [0, 0, slack_sd_mm ** 2],
];

/** Where it may stand, account by account; nothing before the first reading. */
export const guessesOf = (f: PlaceFilter): readonly Guess[] => {
  if (!f.read) return [];
  const top = Math.max(...f.accounts.map((a) => a.log));
  const all = f.accounts.reduce((sum, a) => sum + Math.exp(a.log - top), 0);
  return f.accounts.map((a) => ({ share: Math.exp(a.log - top) / all, mm: a.mean[0], variance: at(a.cov, 0)[0] }));
};

/** How many sigma a reading is from what any account that is not ruled out expects of it; 0 where nothing was read before. */
export const surpriseOf = (f: PlaceFilter, mm: number, variance: number): number => {
  if (!f.read) return 0;
  const top = Math.max(...f.accounts.map((a) => a.log));
  const apart = f.accounts.flatMap((a) =>
    a.log < top - RULED_OUT ? [] : [Math.abs(mm - a.mean[0]) / Math.sqrt(at(a.cov, 0)[0] + variance)],
  );
  return Math.min(...apart);
};
const RULED_OUT = 5;

/** What is believed now: by the likeliest account; where others still count, their distance is in the uncertainty. */
export const placeOf = (f: PlaceFilter): Place | null => {
  const top = f.accounts.reduce((best, a) => (a.log > best.log ? a : best));
  if (!f.read) return null;
  const others = guessesOf(f).reduce((sum, g) => sum + g.share * (g.mm - top.mean[0]) ** 2, 0);
  return {
    mm: top.mean[0],
    sd_mm: Math.sqrt(Math.max(at(top.cov, 0)[0], 0) + others),
    gain: Math.min(MOST_GAIN, Math.max(LEAST_GAIN, top.mean[1])),
    slack_mm: Math.max(0, top.mean[2]),
    sense: top.sense,
  };
};

const carried = (a: PlaceAccount, mm: number, row: Three, noise: number): PlaceAccount => {
  const along = a.cov.map((c) => c[0] * row[0] + c[1] * row[1] + c[2] * row[2]);
  const [p = 0, q = 0, r = 0] = along;
  return {
    ...a,
    mean: [a.mean[0] + row[1] * a.mean[1] + row[2] * a.mean[2] + mm, a.mean[1], a.mean[2]],
    cov: [
      [p * row[0] + q * row[1] + r * row[2] + noise, q, r],
      [q, at(a.cov, 1)[1], at(a.cov, 1)[2]],
      [r, at(a.cov, 2)[1], at(a.cov, 2)[2]],
    ],
  };
};

/** Place known anew; what is known of the knob stays. */
const apartFromPlace = (a: PlaceAccount, variance: number): readonly Three[] => [
  [variance, 0, 0],
  [0, at(a.cov, 1)[1], at(a.cov, 1)[2]],
  [0, at(a.cov, 2)[1], at(a.cov, 2)[2]],
];

const at = (cov: readonly Three[], i: number): Three => cov[i] ?? [0, 0, 0];
