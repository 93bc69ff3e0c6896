import type { Hold, HoldAxis, OutReading } from '../hold/hold.js';
import { rollParts, rollsWithin } from '../hold/roll-ends.js';
import type { HeldByHand, HoldSet, HoldState, RecordHead } from '../record.js';
import type { RunState } from './state.js';

/** One reason why product is held, with its own stretch; `to_m` null = it goes on. Metres at the sample place. */
export type HeldReason = {
  readonly from_m: number;
  readonly to_m: number | null;
} & (
  | {
      readonly kind: 'print';
      readonly station: string;
      readonly axis: HoldAxis;
      /** Movement, by key; null = none. */
      readonly event: number | null;
      readonly out: readonly OutReading[];
      /** The first good check after; null = none yet. */
      readonly good: Hold['to'];
    }
  | { readonly kind: 'person'; readonly by: string; readonly at: string; readonly why: string }
);

/** A stretch of one finished roll that is held, and why that part of it is. */
export type HeldPart = {
  readonly roll: string;
  readonly from_m: number;
  readonly to_m: number | null;
  readonly reasons: readonly HeldReason[];
};

/** Held product without a gap in it: reasons that overlap are in one stretch, those that only touch are not. */
export type HeldStretch = {
  readonly from_m: number;
  readonly to_m: number | null;
  readonly rolls: readonly string[];
  readonly reasons: readonly HeldReason[];
  readonly parts: readonly HeldPart[];
};

/** How held product of one roll stands; `set` null = nobody has touched it since it was held. */
export type HeldState = { readonly state: HoldState; readonly set: (RecordHead & HoldSet) | null };

type Held = Pick<RunState, 'judged' | 'hold_sets' | 'held_by_hand'>;

/** All held product of a run in web order. Every metre of it is in one stretch, and in one part of one roll. */
export const heldStretches = ({ judged, held_by_hand }: Omit<Held, 'hold_sets'>): readonly HeldStretch[] => {
  const { rolls } = judged.holds;
  // When the run has ended nothing goes on: what waited for a good check ends with the web.
  const end_m = judged.phase === 'ended' ? Math.max(judged.web.base_m, judged.last_check?.web_m ?? 0) : null;
  const reasons = [
    ...[...judged.holds.ended, ...judged.holds.open].map(
      ({ from, to, station, axis, event, out }): HeldReason => ({
        kind: 'print',
        from_m: from.web_m,
        to_m: to?.web_m ?? end_m,
        station,
        axis,
        event,
        out,
        good: to,
      }),
    ),
    ...held_by_hand.flatMap((record) => byHand(record, judged.holds.rolls, end_m)),
  ].toSorted((a, b) => a.from_m - b.from_m);
  const joined: { from_m: number; to_m: number | null; reasons: HeldReason[] }[] = [];
  for (const reason of reasons) {
    const last = joined.at(-1);
    if (last === undefined || (last.to_m !== null && reason.from_m >= last.to_m))
      joined.push({ from_m: reason.from_m, to_m: reason.to_m, reasons: [reason] });
    else {
      last.to_m = last.to_m === null || reason.to_m === null ? null : Math.max(last.to_m, reason.to_m);
      last.reasons.push(reason);
    }
  }
  return joined.map((stretch) => ({
    ...stretch,
    rolls: rollsWithin(rolls, stretch.from_m, stretch.to_m),
    parts: rollParts(rolls, stretch.from_m, stretch.to_m).map((part) => ({
      ...part,
      reasons: stretch.reasons.filter((r) => r.from_m < (part.to_m ?? Infinity) && (r.to_m ?? Infinity) > part.from_m),
    })),
  }));
};

/** A hold that a person made: of rolls, of a stretch, or of a stretch of rolls. */
const byHand = (
  { rolls: wanted, from_m, to_m, by, at, why }: RecordHead & HeldByHand,
  ends: RunState['judged']['holds']['rolls'],
  end_m: number | null,
): readonly HeldReason[] => {
  const parts = rollParts(ends, from_m ?? 0, to_m ?? end_m);
  const own = wanted.length === 0 ? parts : parts.filter(({ roll }) => wanted.includes(roll));
  const stretches: { from_m: number; to_m: number | null }[] = [];
  for (const part of own) {
    const last = stretches.at(-1);
    if (last !== undefined && last.to_m === part.from_m) last.to_m = part.to_m;
    else stretches.push({ from_m: part.from_m, to_m: part.to_m });
  }
  return stretches.map((stretch) => ({ kind: 'person', ...stretch, by, at, why }));
};

const heldParts = (state: Held): readonly HeldPart[] => heldStretches(state).flatMap(({ parts }) => parts);

/**
 * How a roll's held product between two positions stands. What was set holds only for product that it covered: a roll that was released
 * and is held again for another stretch is on hold.
 */
export const heldState = (state: Held, roll: string, from_m: number, to_m: number): HeldState =>
  stateOf(
    state,
    roll,
    heldParts(state).filter((p) => p.roll === roll && overlaps(p, from_m, to_m)),
  );

const stateOf = ({ hold_sets }: Held, roll: string, parts: readonly HeldPart[]): HeldState => {
  const set = hold_sets.findLast((s) => s.rolls.includes(roll) && parts.some((p) => overlaps(p, s.from_m, s.to_m)));
  const covers = parts.every(
    (p) => set !== undefined && p.to_m !== null && set.to_m >= p.to_m - SLACK_M && set.from_m <= p.from_m + SLACK_M,
  );
  return set === undefined || !covers ? { state: 'hold', set: null } : { state: set.state, set };
};

/** How one part stands. */
export const partState = (state: Held, part: HeldPart): HeldState => stateOf(state, part.roll, [part]);

/** What may follow what. */
const NEXT: Readonly<Record<HoldState, readonly HoldState[]>> = {
  hold: ['re-inspect'],
  're-inspect': ['released', 'reworked', 'scrapped', 'hold'],
  reworked: ['re-inspect', 'hold'],
  released: ['hold'],
  scrapped: ['hold'],
};

/** Why held product may not be put in this state, in words; null = it may. */
export const holdRefusal = (state: Held, set: HoldSet): string | null => {
  if (set.rolls.length === 0) return 'Name the held rolls.';
  if (!(set.to_m >= set.from_m)) return 'The held stretch must end where it begins or after it.';
  const all = heldParts(state);
  for (const roll of set.rolls) {
    const parts = all.filter((p) => p.roll === roll && overlaps(p, set.from_m, set.to_m));
    if (parts.length === 0) return `Roll ${roll} is not on hold there.`;
    if (parts.some((p) => p.to_m === null))
      return `Roll ${roll} is still being held: its stretch goes on until a check is good again or the roll is off.`;
    const now = stateOf(state, roll, parts).state;
    if (!NEXT[now].includes(set.state))
      return `Roll ${roll} is ${SAID[now]}: next can only be ${NEXT[now].join(' or ')}.`;
  }
  return set.state === 'released' && (set.by_second ?? '').trim() === ''
    ? 'Two persons release held product: name the second.'
    : null;
};

/** Why a person's hold may not be taken, in words; null = it may. */
export const handHoldRefusal = ({ judged }: Pick<RunState, 'judged'>, held: HeldByHand): string | null => {
  if (held.why.trim() === '') return 'Say why it is held.';
  if (held.rolls.length === 0 && held.from_m === null) return 'Name the rolls, or from where to where product is held.';
  if (held.from_m !== null && held.to_m !== null && !(held.to_m > held.from_m))
    return 'The held stretch must end after it begins.';
  const known = rollsWithin(judged.holds.rolls, 0, null);
  const strange = held.rolls.find((roll) => !known.includes(roll));
  if (strange !== undefined) return `There is no finished roll ${strange} in this run; there are ${known.join(', ')}.`;
  const within = rollsWithin(judged.holds.rolls, held.from_m ?? 0, held.to_m);
  const outside = held.rolls.find((roll) => !within.includes(roll));
  return outside === undefined ? null : `Roll ${outside} has nothing between these positions.`;
};

const SAID: Readonly<Record<HoldState, string>> = {
  hold: 'on hold',
  're-inspect': 'being re-inspected',
  released: 'released',
  reworked: 'reworked',
  scrapped: 'scrapped',
};

const SLACK_M = 1e-6;

/** Overlaps by more than an end: parts that only touch are decided one by one. */
const overlaps = (part: Pick<HeldPart, 'from_m' | 'to_m'>, from_m: number, to_m: number): boolean =>
  part.from_m < to_m - SLACK_M && (part.to_m === null || part.to_m > from_m + SLACK_M);
