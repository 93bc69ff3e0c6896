import type { HoldSet, HoldState, RecordHead } from '../record.js';
import type { Judged, RunState } from './state.js';

/** A stretch of one finished roll that is held; `to_m` null = it is still growing. Metres at the sample place. */
export type HeldPart = { readonly roll: string; readonly from_m: number; readonly to_m: number | null };

/** How held product of one roll stands; `set` null = nobody has touched it since it was held. */
export type HeldState = { readonly state: HoldState; readonly set: (RecordHead & HoldSet) | null };

/** Every held stretch, roll by roll, one for each movement or plate that asked for it. */
export const heldParts = ({ movements, plate_suspects, marks }: Judged): readonly HeldPart[] => {
  const suspects = [
    ...movements.flatMap((m) => (m.suspect === null || m.closed?.how === 'withdrawn' ? [] : [m.suspect])),
    ...plate_suspects,
  ];
  const ends = marks.flatMap((m) => (m.kind === 'finished' ? [m.web_m] : []));
  const offs = new Map(marks.flatMap((m) => (m.kind === 'finished' && m.roll !== null ? [[m.roll, m.web_m]] : [])));
  return suspects.flatMap(({ from, to, rolls }) =>
    rolls.map((roll) => {
      const end_m = offs.get(roll) ?? null;
      // The last roll has no end yet, but it began where the one before came off.
      const start_m = ends.findLast((m) => m < (end_m ?? Infinity)) ?? from.web_m;
      const to_m = to === null ? end_m : end_m === null ? to.web_m : Math.min(to.web_m, end_m);
      return { roll, from_m: Math.min(Math.max(from.web_m, start_m), to_m ?? Infinity), to_m };
    }),
  );
};

/**
 * How a roll's held product between two positions stands. What was set holds only for product that it covered: a roll that was released
 * and is held again for another stretch is on hold.
 */
export const heldState = (
  state: Pick<RunState, 'judged' | 'hold_sets'>,
  roll: string,
  from_m: number,
  to_m: number,
): HeldState => {
  const parts = heldParts(state.judged).filter((p) => p.roll === roll && overlaps(p, from_m, to_m));
  const set = state.hold_sets.findLast(
    (s) => s.rolls.includes(roll) && parts.some((p) => overlaps(p, s.from_m, s.to_m)),
  );
  const covers = parts.every(
    (p) => set !== undefined && p.to_m !== null && set.to_m >= p.to_m - SLACK_M && set.from_m <= p.from_m + SLACK_M,
  );
  return set === undefined || !covers ? { state: 'hold', set: null } : { state: set.state, set };
};

/** What may follow what. */
const NEXT: Readonly<Record<HoldState, readonly HoldState[]>> = {
  hold: ['re-inspect'],
  're-inspect': ['released', 'reworked', 'scrapped', 'hold'],
  reworked: ['re-inspect', 'hold'],
  released: ['hold'],
  scrapped: ['hold'],
};

/** Why held product may not be put in this state, in words; null = it may. */
export const holdRefusal = (state: Pick<RunState, 'judged' | 'hold_sets'>, set: HoldSet): string | null => {
  if (set.rolls.length === 0) return 'Name the held rolls.';
  if (!(set.to_m >= set.from_m)) return 'The held stretch must end where it begins or after it.';
  for (const roll of set.rolls) {
    const parts = heldParts(state.judged).filter((p) => p.roll === roll && overlaps(p, set.from_m, set.to_m));
    if (parts.length === 0) return `Roll ${roll} is not on hold there.`;
    if (parts.some((p) => p.to_m === null))
      return `Roll ${roll} is still being held: its stretch goes on until a check is good again or the roll is off.`;
    const now = heldState(state, roll, set.from_m, set.to_m).state;
    if (!NEXT[now].includes(set.state))
      return `Roll ${roll} is ${SAID[now]}: next can only be ${NEXT[now].join(' or ')}.`;
  }
  return set.state === 'released' && (set.by_second ?? '').trim() === ''
    ? 'Two persons release held product: name the second.'
    : null;
};

const SAID: Readonly<Record<HoldState, string>> = {
  hold: 'on hold',
  're-inspect': 'being re-inspected',
  released: 'released',
  reworked: 'reworked',
  scrapped: 'scrapped',
};

const SLACK_M = 1e-6;

const overlaps = (part: HeldPart, from_m: number, to_m: number): boolean =>
  part.from_m <= to_m + SLACK_M && (part.to_m === null || part.to_m >= from_m - SLACK_M);
