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
const KNOB_ERROR = 0.12;

/** What a turn may give more or less, mm². */
export const knobVariance = (move_mm: number): number => (KNOB_ERROR * move_mm) ** 2;

/** Within this share of its tolerance a station is not turned: so near its aim, scatter is what would be turned by. */
const LEFT_WITHIN = 1 / 3;

/**
 * The moves of least expected loss on one axis.
 *
 * Register is relative: moving the reference by r moves every reading by −r. For each r worth trying (none; what would bring any one station,
 * or the middle of all, to its aim) every other station is left or turned to its own best place, whichever loses less; the r that loses least
 * in all, touches included, is taken. So five stations off alike are one knob, whatever moved, and a fixed station that is out is met by the
 * reference and all others. Where it creeps, the best place is on the far side of the aim, by more than half the way to the next check.
 */
export const chooseMoves = (
  stations: readonly Choosable[],
  reference_step_mm: number | null | 'fixed',
  costs: Costs,
): Choice => {
  const known = stations.flatMap((s) => (s.standing === null ? [] : [weighable(s, s.standing, costs)]));
  if (known.every((s) => isNear(s, 0))) return NO_MOVES;
  const left = known.map((s) => lossOf(s.standing, 0, 0, s.tolerance_mm, s.costs));
  // Where the dearest to leave is cheaper than a touch there is nothing to choose.
  if (left.every((loss) => loss < costs.touch_m)) return NO_MOVES;
  const all = left.reduce((a, b) => a + b, 0);
  let best: { readonly r: number; readonly moves: Readonly<Record<string, number>>; readonly loss: number } | null =
    null;
  for (const r of shiftsOf(known, reference_step_mm)) {
    let loss = r === 0 ? 0 : costs.touch_m;
    const moves: Record<string, number> = {};
    for (const [k, s] of known.entries()) {
      const stays = r === 0 ? (left[k] ?? 0) : lossOf(s.standing, -r, knobVariance(r), s.tolerance_mm, s.costs);
      const own = bestOwn(s, r, stays);
      if (own.move_mm !== 0) moves[s.id] = own.move_mm;
      loss += own.loss;
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

/** A station with all of it that does not depend on the move that is tried. */
type Weighable = Omit<Choosable, 'standing'> & {
  readonly standing: Standing;
  /** Mean place now. */
  readonly now: number;
  /** Places that it may be turned from. */
  readonly places: readonly number[];
  /** What it is set past those, as it creeps. */
  readonly ahead: number;
  readonly costs: Costs;
};

const weighable = (station: Choosable, standing: Standing, costs: Costs): Weighable => {
  const { middle, now } = meanOf(standing);
  const way = 2 * (middle - now);
  const goes = Math.abs(way) > GOES * station.tolerance_mm;
  return {
    ...station,
    standing,
    now,
    places: placesOf(standing, middle, station.tolerance_mm),
    ahead: goes ? FARTHER * way : 0,
    costs: goes ? { ...costs, offset_m: costs.going_offset_m } : costs,
  };
};

/** So near its aim once the reference has moved by r that it is not turned. */
const isNear = ({ places, tolerance_mm }: Weighable, r: number): boolean =>
  places.every((place) => Math.abs(place - r) <= LEFT_WITHIN * tolerance_mm);

/** Its own best move beside a move r of the reference, 0 = it is left, and what is lost then; `stays`: what leaving it loses. */
const bestOwn = (s: Weighable, r: number, stays: number): { readonly move_mm: number; readonly loss: number } => {
  let best = { move_mm: 0, loss: stays };
  if (s.fixed || stays <= s.costs.touch_m || isNear(s, r)) return best;
  for (const place of s.places) {
    const m = toStep(within(PAST * Math.abs(s.now - r), r - place - s.ahead), s.step_mm);
    if (m === 0) continue;
    const variance = knobVariance(r) + knobVariance(m);
    const loss = s.costs.touch_m + lossOf(s.standing, m - r, variance, s.tolerance_mm, s.costs);
    if (loss < best.loss) best = { move_mm: m, loss };
  }
  return best;
};

const within = (most: number, mm: number): number => Math.max(-most, Math.min(most, mm));

/** Where a station stands on the mean until the next check: over all accounts, and over those near the likeliest. */
const placesOf = (s: Standing, middle: number, tolerance_mm: number): readonly number[] => {
  const likely = likeliestMiddle(s, tolerance_mm / 2);
  return Math.abs(likely - middle) < 0.05 * tolerance_mm ? [middle] : [middle, likely];
};

/** Moves of the reference worth trying, none first. */
const shiftsOf = (known: readonly Weighable[], step: number | null | 'fixed'): readonly number[] => {
  if (step === 'fixed' || known.length < 2) return [0];
  const each = known.map(({ places }) => places[places.length - 1] ?? 0).toSorted((a, b) => a - b);
  const middle = each[Math.floor(each.length / 2)] ?? 0;
  const low = each[Math.floor((each.length - 1) / 4)] ?? 0;
  const high = each[Math.ceil((3 * (each.length - 1)) / 4)] ?? 0;
  const mean = each.reduce((a, b) => a + b, 0) / each.length;
  return [...new Set([0, ...[middle, mean, (low + high) / 2, ...each].map((r) => toStep(r, step))])];
};

const toStep = (mm: number, step: number | null): number => (step === null ? mm : Math.round(mm / step) * step + 0);
