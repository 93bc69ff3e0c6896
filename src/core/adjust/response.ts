import type { Knob } from '../press.js';
import type { KnobResponse } from '../record.js';
import { reversedKnob } from './turn.js';

export type { KnobResponse } from '../record.js';

/** One knob move and what the first sample printed after it said; mm, signed like the print; no tooth moves. */
export type KnobMove = { readonly asked_mm: number; readonly got_mm: number; readonly got_sd_mm: number };

/** What is known of a knob, for the planner, the board and the handover. */
export type KnobKnown = {
  readonly moves: number;
  readonly gain: { readonly plus: number; readonly minus: number };
  readonly gain_sd: { readonly plus: number; readonly minus: number };
  readonly backlash_mm: number;
  readonly backlash_sd_mm: number;
  /** −1: it goes the other way than taken; null = not proved either way. */
  readonly sense: 1 | -1 | null;
  /** Its direction is given, and moves say it goes the other way. */
  readonly sense_doubted: boolean;
  /** false: turned and the print did not move; null = too few moves to say. */
  readonly answers: boolean | null;
};

const GAIN_SD = 0.2;
const BACKLASH_SD_MM = 0.04;
/** Scatter of a move beyond what is read: a hand does not stop on the mark to the hair, goes a division too far now and then, and what it moves may wander meanwhile. */
const HAND_SHARE = 0.1;
const HAND_MM = 0.03;
/** A move this many times farther off than expected says little of the knob: something moved meanwhile, or it was misread. */
const WILD_SQUARE = 4;
/** From nineteen to one on, which way a knob goes is proved. */
export const PROVED_LOG_ODDS = Math.log(19);
/** A hand turns the wrong way once in a hundred: no single move says more than that of the direction. */
const HAND_ERRS = Math.log(99);
const UNMOVED_GAIN = 0.35;

/** A knob nobody has turned yet: taken to do what its marks say. `sense_given`: the press file says its direction. */
export const initialResponse = (sense_given: boolean): KnobResponse => ({
  moves: 0,
  mean: [1, 1, 0],
  cov: [GAIN_SD ** 2, 0, 0, 0, GAIN_SD ** 2, 0, 0, 0, BACKLASH_SD_MM ** 2],
  sense_log_odds: sense_given ? 5 : 0.5,
  ...(sense_given ? { sense_given } : {}),
  last: null,
});

/**
 * One more move learned from. got = gain of that direction × asked, less the slack when the direction was reversed; a linear
 * Gaussian update (Kalman gain), weighed by how well the change was read, so that one rough reading moves little. The direction
 * is learned beside it by how much better the move is explained one way than the other, at most as surely as a hand turns the right way; while it goes the wrong way nothing is
 * learned of gain. A move that was not read (sd not finite) teaches only which way it was turned last.
 * Source: Bayesian linear regression, e.g. Bishop (2006) section 3.3, from memory.
 * Example: ten moves of 0.20 mm that each gave 0.16 mm, read to 0.02: gain 0.81.
 */
export const learnMove = (knob: KnobResponse, move: KnobMove): KnobResponse => {
  const way = move.asked_mm < 0 ? -1 : 1;
  if (!Number.isFinite(move.got_sd_mm) || move.asked_mm === 0)
    return { ...knob, last: move.asked_mm === 0 ? knob.last : way };
  const reversed = knob.last !== null && knob.last !== way;
  const row: readonly [number, number, number] = [
    way > 0 ? move.asked_mm : 0,
    way < 0 ? move.asked_mm : 0,
    reversed ? -way : 0,
  ];
  const spread = times(knob.cov, row);
  const expected = dot(knob.mean, row);
  const plain = move.got_sd_mm ** 2 + HAND_MM ** 2 + (HAND_SHARE * move.asked_mm) ** 2;
  const wildAt = (mm: number): number => {
    const wild = (move.got_mm - mm) ** 2 / (dot(spread, row) + plain) / WILD_SQUARE;
    return dot(spread, row) + plain * Math.max(1, wild) ** 2;
  };
  const variance = wildAt(expected);
  // A move that went just as far the other way is no wild one: it is what tells the direction.
  const either = Math.min(variance, wildAt(-expected));
  const told = ((move.got_mm + expected) ** 2 - (move.got_mm - expected) ** 2) / (2 * either);
  const odds = clamp(told, -HAND_ERRS, HAND_ERRS);
  const sense_log_odds = clamp(knob.sense_log_odds + odds, -8, 8);
  const next = { ...knob, moves: knob.moves + 1, sense_log_odds, last: way } as const;
  if (sense_log_odds < 0) return next;
  const miss = move.got_mm - expected;
  const pull = spread.map((s) => s / variance);
  const [g, h, b] = [pull[0] ?? 0, pull[1] ?? 0, pull[2] ?? 0];
  const cov = knob.cov.map((c, i) => c - (pull[Math.floor(i / 3)] ?? 0) * (spread[i % 3] ?? 0));
  return {
    ...next,
    mean: [knob.mean[0] + g * miss, knob.mean[1] + h * miss, knob.mean[2] + b * miss],
    cov: asNine(cov),
  };
};

/** What may be said of a knob. Gains are kept between 0.5 and 1.7: beyond that the knob is not understood and is not planned with. */
export const knownOf = (knob: KnobResponse): KnobKnown => {
  const sd = (i: number): number => Math.sqrt(Math.max(0, knob.cov[i * 4] ?? 0));
  const sure = Math.abs(knob.sense_log_odds) >= PROVED_LOG_ODDS;
  const used = [knob.mean[0], knob.mean[1]].filter((_, i) => sd(i) < GAIN_SD * 0.95);
  const dead = knob.moves >= 2 && used.length > 0 && used.every((gain, i) => gain + sd(i) < UNMOVED_GAIN + GAIN_SD);
  return {
    moves: knob.moves,
    gain: { plus: clamp(knob.mean[0], 0.5, 1.7), minus: clamp(knob.mean[1], 0.5, 1.7) },
    gain_sd: { plus: sd(0), minus: sd(1) },
    backlash_mm: Math.max(0, knob.mean[2]),
    backlash_sd_mm: sd(2),
    sense: knob.sense_given === true ? 1 : sure ? (knob.sense_log_odds > 0 ? 1 : -1) : null,
    sense_doubted: knob.sense_given === true && knob.sense_log_odds < 0,
    answers: dead ? false : knob.moves < 2 ? null : true,
  };
};

/** The knob as it was found to be: where it moves the print the other way than the press file says, mark and hand turned about. */
export const knobAsLearned = (knob: Knob, known: KnobKnown): Knob => (known.sense === -1 ? reversedKnob(knob) : knob);

/** What the operator should know of this knob; null = nothing out of the way. */
export const knobWords = (name: string, known: KnobKnown): string | null => {
  if (known.sense === -1)
    return `${name}'s knob moves the print the other way than taken: set its sense in the press file.`;
  if (known.sense_doubted)
    return `Did ${name}'s knob go the other way than its mark says? Read a second sample before it is turned again.`;
  if (known.answers === false)
    return `${name}'s knob was turned ${known.moves} times and the print did not follow: have it looked at.`;
  const { plus, minus } = known.gain;
  const off =
    Math.abs(plus - 1) > 2 * known.gain_sd.plus && Math.abs(plus - 1) > 0.1
      ? plus
      : Math.abs(minus - 1) > 2 * known.gain_sd.minus && Math.abs(minus - 1) > 0.1
        ? minus
        : null;
  return off === null
    ? null
    : `${name}'s knob gives ${Math.round(off * 100)} % of what its marks say; the advice allows for it.`;
};

type Nine = KnobResponse['cov'];

const times = (m: Nine, [x, y, z]: readonly [number, number, number]): readonly [number, number, number] => [
  m[0] * x + m[1] * y + m[2] * z,
  m[3] * x + m[4] * y + m[5] * z,
  m[6] * x + m[7] * y + m[8] * z,
];

const dot = (a: readonly [number, number, number], b: readonly [number, number, number]): number =>
  a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

const asNine = ([a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0]: readonly number[]): Nine => [
  a,
  b,
  c,
  d,
  e,
  f,
  g,
  h,
  i,
];

const clamp = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x));
