import type { HandoverView, HeldRoll } from '../core/views/handover-view.js';

/** What the tag on one held roll says. */
export type HoldTag = HeldRoll & {
  /** The stretch as it is met when the roll is unwound: metres from the outside; null = the roll's end is not known. */
  readonly from_outside_m: { readonly near: number; readonly far: number } | null;
};

/**
 * One tag for each held part of a roll. A rewound roll is met last in, first out: metres from the outside = counter at the roll's end −
 * counter. Example: roll 12 200–14 200 m, held 12 900–14 450 m → 0 to 1 300 m from the outside.
 */
export const holdTags = (view: HandoverView): readonly HoldTag[] =>
  view.holds.flatMap((hold) => hold.parts.map((part) => tagOf(part, view)));

function tagOf(part: HeldRoll, view: HandoverView): HoldTag {
  const end = view.finished_rolls?.find((known) => known.roll === part.roll)?.to_m ?? null;
  const { from_m, to_m } = part;
  return { ...part, from_outside_m: end === null || to_m === null ? null : { near: end - to_m, far: end - from_m } };
}
