/** Of the summed evidence asked for, against the checks asked between false notices on one axis; fitted by simulation (tests/bench/drift.ts). */
const THRESHOLD_SHARE = 0.36;
/** How much less evidence, ln, is asked when something is outside tolerance. */
const OUT_EASE = Math.log(30);

/** Evidence, ln, that a movement must have before it is spoken of: `always`, and `now`, which is less when something reads out of tolerance. */
export type EvidenceAsked = { readonly always: number; readonly now: number };

/** `asked`: checks of the whole press between false notices, both axes together; `out`: something reads out of tolerance on this axis. */
export const evidenceAsked = (asked: number, out: boolean): EvidenceAsked => {
  const always = Math.log(THRESHOLD_SHARE * 2 * asked);
  return { always, now: out ? always - OUT_EASE : always };
};
