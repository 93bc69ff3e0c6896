import type { HandoverView, HoldSpan, RollTag } from '../core/views/handover-view.js';

/** What the tag on one held roll says. */
export type HoldTag = {
  readonly roll: string;
  /** Held stretch within this roll, counter at the sample place; `to_m` null = still going on. */
  readonly from_m: number;
  readonly to_m: number | null;
  /** The stretch as it is met when the roll is unwound: metres from the outside; null = the roll's end is not known. */
  readonly from_outside_m: { readonly near: number; readonly far: number } | null;
  readonly why: readonly string[];
  /** How it stands, and who put it there; null = nobody has touched it since it was held. */
  readonly tag: RollTag | null;
};

/**
 * One tag for each held roll of each hold. A rewound roll is met last in, first out: metres from the outside = counter at the roll's end −
 * counter. Example: roll 12 200–14 200 m, held 12 900–14 450 m → 0 to 1 300 m from the outside.
 */
export const holdTags = (view: HandoverView): readonly HoldTag[] =>
  view.holds.flatMap((hold) => hold.rolls.map((roll) => tagOf(roll, hold, view)));

function tagOf(roll: string, hold: HoldSpan, view: HandoverView): HoldTag {
  const span = view.finished_rolls?.find((known) => known.roll === roll);
  const from_m = Math.max(hold.from_m, span?.from_m ?? hold.from_m);
  const end = span?.to_m ?? null;
  const to_m = end === null ? hold.to_m : Math.min(hold.to_m ?? end, end);
  return {
    roll,
    from_m,
    to_m,
    from_outside_m: end === null || to_m === null ? null : { near: end - to_m, far: end - from_m },
    why: hold.why,
    tag: hold.tags?.find((known) => known.roll === roll && known.at !== null) ?? null,
  };
}
