import type { Axis, PerAxis } from '../axis.js';
import type { Move } from '../finding.js';
import { outside } from '../planner/expected-loss.js';
import { helixShift } from './helix.js';
import { orderOfMakeReady } from './make-ready-order.js';
import { referenceMove } from './make-ready-reference.js';
import type { MakeReadyKnown } from './make-ready-turn.js';
import { turnOut } from './make-ready-turn.js';
import type { PlanInput, PlanStation } from './plan-input.js';

export type { MakeReadyKnown } from './make-ready-turn.js';

export type StationAxis = { readonly station: string; readonly axis: Axis };

/** Everything that one sample asks for, for the whole press. */
export type MakeReadyPlan = {
  /** In the order to turn; all are meant to be made before the next sample. */
  readonly moves: readonly Move[];
  /** Turned already since the sample. */
  readonly done: readonly StationAxis[];
  /** To be read on a second label of this sample before anything is turned there. */
  readonly read_again: readonly string[];
  /** Not in, and nothing that can be turned would bring it in. */
  readonly stuck: readonly StationAxis[];
  /** In by the estimate, which is not sure of it. */
  readonly doubtful: readonly StationAxis[];
  readonly unread: readonly StationAxis[];
  /** The fixed station that the reference is brought to; null = none. */
  readonly met: string | null;
  /** All in: nothing to turn, nothing to read again. */
  readonly ready: boolean;
};

export type MakeReadyAsked = {
  readonly inputs: PerAxis<PlanInput>;
  readonly known?: PerAxis<Readonly<Record<string, MakeReadyKnown>>>;
  /** Part of its tolerance inside which a station is in. */
  readonly bring_in: number;
};

/**
 * The plan of make-ready from one sample, for the whole press.
 * How: every station is read against the reference, and turning one shifts no other, so all that are off are turned after the same sample.
 * The reference stays where it is, unless a station that cannot be moved is off (then the reference and all others go to it) or moving it
 * is fewer turns. A station inside `bring_in` of its tolerance is in and left alone; the rest of its tolerance is the run's. What is off by
 * more than half a tooth goes by teeth, all at one stop, with what is left of it by knob; where no stop is needed otherwise and the knob
 * reaches, by knob alone. On helical gears what is moved side to side is taken into the move along. Where only a near thing or a doubtful
 * label would cost another sample, a second label of this one is asked for first.
 * Source: common practice, no source, for teeth before knob and the order; why all at once is sound: every reading is against the reference.
 * Example: 2 off by 0.40 ahead, 3 by 0.02: 2 is retarded 0.40, 3 is left.
 */
export const makeReadyPlan = (asked: MakeReadyAsked): MakeReadyPlan => {
  const across = planAxis(asked, 'across', () => 0);
  const { along: input } = asked.inputs;
  const shiftOf = (id: string): number => helixShift(across.effect_mm.get(id) ?? 0, input.helix_deg);
  const along = planAxis(asked, 'along', (id) => shiftOf(id) - shiftOf(input.reference));
  const both = [across, along];
  const sure = both.some((p) => p.sure) || both.some((p) => p.done.length > 0);
  // Another sample comes anyway where something must be turned: then a near thing is turned now, and what is only unsure waits for it.
  const near = sure ? [] : both.flatMap((p) => p.near);
  const read_again = [...new Set([...both.flatMap((p) => p.doubted), ...near])];
  const moves = both
    .flatMap((p) => p.moves)
    .filter((move) => (sure || !closeIn(both, move)) && (!read_again.includes(move.station) || sureOf(both, move)));
  const [unread, doubtful, stuck, done] = [
    both.flatMap((p) => p.unread),
    both.flatMap((p) => p.doubtful),
    both.flatMap((p) => p.stuck),
    both.flatMap((p) => p.done),
  ];
  return {
    moves: orderOfMakeReady(input, moves),
    done,
    read_again,
    stuck,
    doubtful,
    unread,
    met: along.met ?? across.met,
    ready:
      moves.length === 0 && done.length === 0 && read_again.length === 0 && stuck.length === 0 && unread.length === 0,
  };
};

/** A near thing by several labels is in as far as can be told; it is turned only where another sample comes anyway. */
const closeIn = (plans: readonly AxisPlan[], move: Move): boolean =>
  plans.some((p) => p.axis === move.axis && p.close.includes(move.station));

/** What is surely to be turned is turned though its other axis is read again. */
const sureOf = (plans: readonly AxisPlan[], move: Move): boolean =>
  plans.some((p) => p.axis === move.axis && !p.doubted.includes(move.station) && !p.near.includes(move.station));

type AxisPlan = {
  readonly axis: Axis;
  readonly moves: readonly Move[];
  readonly done: readonly StationAxis[];
  readonly effect_mm: ReadonlyMap<string, number>;
  readonly doubted: readonly string[];
  /** Near things read once, and those read oftener: in as far as can be told. */
  readonly near: readonly string[];
  readonly close: readonly string[];
  readonly sure: boolean;
  readonly stuck: readonly StationAxis[];
  readonly doubtful: readonly StationAxis[];
  readonly unread: readonly StationAxis[];
  readonly met: string | null;
};

/** Chance of being truly out from which a station is doubtful; a hundredth of all may be. */
const DOUBTFUL = 0.01;
/** A station past its band by no more than this much of it is turned where another sample comes anyway, and costs none by itself. */
const EDGE = 1.5;
/** A station past the edge by less than this many sigma of its estimate is a near thing while it was read once. */
const NEAR_SIGMA = 1.5;
const MOST_LABELS = 3;

const planAxis = (asked: MakeReadyAsked, axis: Axis, coupled: (id: string) => number): AxisPlan => {
  const plain = asked.inputs[axis];
  const known = asked.known?.[axis] ?? {};
  const stations = plain.stations.map((s) =>
    s.level_mm === null ? s : { ...s, level_mm: s.level_mm + coupled(s.id) },
  );
  const input = { ...plain, stations };
  const bandOf = (s: PlanStation): number =>
    Math.max(asked.bring_in * s.tolerance_mm, (s.knob.division_mm ?? 0) * 0.51);
  const others = stations.filter((s) => s.id !== input.reference);
  const reference = stations.find((s) => s.id === input.reference);
  const trusted = others.filter((s) => known[s.id]?.doubted !== true);
  const shift = referenceMove(input, reference, trusted, bandOf, known[input.reference]?.pending_mm ?? 0);
  const moves: Move[] = [];
  const done: StationAxis[] = [];
  const stuck: StationAxis[] = [];
  const doubtful: StationAxis[] = [];
  const doubted: string[] = [];
  const near: string[] = [];
  const close: string[] = [];
  const effect_mm = new Map<string, number>();
  let sure = false;
  const off = others.flatMap((s) => (s.level_mm === null || s.fixed ? [] : [{ s, mm: shift.mm - s.level_mm }]));
  const stop = turnOut.needsStop(input, known, [
    ...(reference === undefined || shift.mm === 0 ? [] : [{ s: reference, mm: shift.mm }]),
    ...off.filter(({ s, mm }) => Math.abs(mm) > bandOf(s)),
  ]);
  /** One station brought by `wanted`; what of it was turned since the sample is taken off. */
  const bring = (s: PlanStation, wanted: number): void => {
    const pending = known[s.id]?.pending_mm ?? 0;
    effect_mm.set(s.id, wanted);
    if (pending !== 0 && Math.abs(wanted - pending) <= bandOf(s)) {
      done.push({ station: s.id, axis });
      return;
    }
    const turned = turnOut.of(input, s, wanted - pending, known[s.id], stop);
    effect_mm.set(s.id, pending + turned.effect_mm);
    if (turned.short) stuck.push({ station: s.id, axis });
    if (turned.move !== null) moves.push(turned.move);
  };
  if (reference !== undefined && (shift.mm !== 0 || (known[reference.id]?.pending_mm ?? 0) !== 0)) {
    bring(reference, shift.mm);
    sure ||= shift.mm !== 0;
  }
  const moved = effect_mm.get(input.reference) ?? 0;
  for (const s of others) {
    if (s.level_mm === null) continue;
    const more = known[s.id];
    const labels = more?.labels ?? MOST_LABELS;
    const wanted = moved - s.level_mm;
    const sd = s.sd_mm ?? 0;
    const beyond = Math.abs(wanted) - bandOf(s);
    if (more?.doubted === true && labels < MOST_LABELS && (beyond > 0 || s.fixed)) {
      doubted.push(s.id);
      continue;
    }
    if (s.fixed) {
      if (beyond > 0 && outside(wanted, sd * sd, s.tolerance_mm) > 0.5) stuck.push({ station: s.id, axis });
    } else if (beyond > 0 || (more?.pending_mm ?? 0) !== 0) {
      bring(s, wanted);
      if (beyond <= 0) continue;
      const edge = EDGE * bandOf(s);
      const safe = outside(wanted, sd * sd, s.tolerance_mm) <= DOUBTFUL;
      if (safe && (Math.abs(wanted) <= edge || (labels > 1 && Math.abs(wanted) <= edge + NEAR_SIGMA * sd)))
        close.push(s.id);
      else if (labels < 2 && Math.abs(wanted) <= edge + NEAR_SIGMA * sd) near.push(s.id);
      else sure = true;
      continue;
    }
    if (outside(wanted, sd * sd, s.tolerance_mm) <= DOUBTFUL) continue;
    if (labels < MOST_LABELS) near.push(s.id);
    else doubtful.push({ station: s.id, axis });
  }
  return {
    axis,
    moves,
    done,
    effect_mm,
    doubted,
    near,
    close,
    sure,
    stuck,
    doubtful,
    unread: others.flatMap((s) => (s.measured && s.level_mm === null ? [{ station: s.id, axis }] : [])),
    met: shift.met,
  };
};
