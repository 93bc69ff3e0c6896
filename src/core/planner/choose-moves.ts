import { type Costs, lossOf } from './expected-loss.js';
import { likeliestMiddle, meanOf, type Standing } from './standing.js';

/** One station as the choice sees it; the reference is not among them. */
export type Choosable = {
  readonly id: string;
  /** null = never read: nothing is known, nothing is turned. */
  readonly standing: Standing | null;
  readonly tolerance_mm: number;
  /** Cannot be moved on this axis. */
  readonly fixed: boolean;
  /** Smallest move of its knob; null = not known. */
  readonly step_mm: number | null;
};

export type Choice = {
  /** Move of the reference's print; 0 = it is left. */
  readonly reference_mm: number;
  /** Moves of the others, by station; only those that are turned. */
  readonly stations: Readonly<Record<string, number>>;
  /** Metres that this is expected to save against leaving everything. */
  readonly saves_m: number;
};

/** A knob and the hand on it give about what is asked: this share more or less, 1 sigma. */
export const KNOB_ERROR = 0.12;

/** Within this share of its tolerance a station is not turned: so near its aim, scatter is what would be turned by. */
const LEFT_WITHIN = 1 / 3;

/**
 * The moves of least expected loss on one axis.
 *
 * Register is relative: moving the reference by r moves every reading by −r. For each r worth trying (none; what would bring any one station,
 * or the middle of all, to its aim) every other station is left or turned to its own best place, whichever loses less; the r that loses least
 * in all, touches included, is taken. So five stations off alike are one knob, whatever moved, and a fixed station that is out is met by the
 * reference and all others. Where it creeps, the best place is half the way to the next check on the far side of the aim.
 */
export const chooseMoves = (
  stations: readonly Choosable[],
  reference_step_mm: number | null | 'fixed',
  costs: Costs,
): Choice => {
  const known = stations.flatMap((s) => (s.standing === null ? [] : [{ ...s, standing: s.standing }]));
  const places = known.map((s) => placesOf(s.standing, s.tolerance_mm));
  if (known.every((s, k) => (places[k] ?? []).every((place) => Math.abs(place) <= LEFT_WITHIN * s.tolerance_mm)))
    return NO_MOVES;
  const own = known.map((s) => (goes(s) ? { ...costs, offset_m: costs.going_offset_m } : costs));
  const left = known.map((s, k) => lossOf(s.standing, 0, 0, s.tolerance_mm, own[k] ?? costs));
  // Where the dearest to leave is cheaper than a touch there is nothing to choose.
  if (left.every((loss) => loss < costs.touch_m)) return NO_MOVES;
  const all = left.reduce((a, b) => a + b, 0);
  let best: { readonly r: number; readonly moves: Readonly<Record<string, number>>; readonly loss: number } | null =
    null;
  for (const r of shiftsOf(known, places, reference_step_mm)) {
    const wobble = (KNOB_ERROR * r) ** 2;
    let loss = r === 0 ? 0 : costs.touch_m;
    const moves: Record<string, number> = {};
    for (const [k, s] of known.entries()) {
      const its = own[k] ?? costs;
      let least = r === 0 ? (left[k] ?? 0) : lossOf(s.standing, -r, wobble, s.tolerance_mm, its);
      const near = (places[k] ?? []).every((place) => Math.abs(place - r) <= LEFT_WITHIN * s.tolerance_mm);
      if (!s.fixed && !near && least > costs.touch_m) {
        const ahead = goes(s) ? FARTHER * wayOf(s.standing) : 0;
        for (const place of places[k] ?? []) {
          const m = toStep(within(PAST * Math.abs(meanOf(s.standing).now - r), r - place - ahead), s.step_mm);
          if (m === 0) continue;
          const turned = costs.touch_m + lossOf(s.standing, m - r, wobble + (KNOB_ERROR * m) ** 2, s.tolerance_mm, its);
          if (turned < least) {
            least = turned;
            moves[s.id] = m;
          }
        }
      }
      loss += least;
      if (best !== null && loss >= best.loss) break;
    }
    if (best === null || loss < best.loss) best = { r, moves, loss };
  }
  return best === null ? NO_MOVES : { reference_mm: best.r, stations: best.moves, saves_m: all - best.loss };
};

const NO_MOVES: Choice = { reference_mm: 0, stations: {}, saves_m: 0 };

/** Expected to go so far of its tolerance until the next check: it creeps. */
const GOES = 0.25;
/** What creeps is set past its aim by so much of that way beyond its middle: the check after the next is still to come. */
const FARTHER = 0.2;

/** Nothing is turned farther past its aim than it stands off it: a creep may end, with the turn or by itself. */
const PAST = 2;

const within = (most: number, mm: number): number => Math.max(-most, Math.min(most, mm));

const wayOf = (s: Standing): number => {
  const { middle, now } = meanOf(s);
  return 2 * (middle - now);
};

const goes = (s: { readonly standing: Standing; readonly tolerance_mm: number }): boolean =>
  Math.abs(wayOf(s.standing)) > GOES * s.tolerance_mm;

/** Where a station stands on the mean until the next check: over all accounts, and over those near the likeliest. */
const placesOf = (s: Standing, tolerance_mm: number): readonly number[] => {
  const { middle } = meanOf(s);
  const likely = likeliestMiddle(s, tolerance_mm / 2);
  return Math.abs(likely - middle) < 0.05 * tolerance_mm ? [middle] : [middle, likely];
};

/** Moves of the reference worth trying, none first. */
const shiftsOf = (
  known: readonly { readonly id: string }[],
  places: readonly (readonly number[])[],
  step: number | null | 'fixed',
): readonly number[] => {
  if (step === 'fixed' || known.length < 2) return [0];
  const each = places.map((p) => p[p.length - 1] ?? 0).toSorted((a, b) => a - b);
  const middle = each[Math.floor(each.length / 2)] ?? 0;
  const low = each[Math.floor((each.length - 1) / 4)] ?? 0;
  const high = each[Math.ceil((3 * (each.length - 1)) / 4)] ?? 0;
  const mean = each.reduce((a, b) => a + b, 0) / each.length;
  return [...new Set([0, ...[middle, mean, (low + high) / 2, ...each].map((r) => toStep(r, step))])];
};

const toStep = (mm: number, step: number | null): number => (step === null ? mm : Math.round(mm / step) * step + 0);
