import type { Evidence } from './evidence.js';

/**
 * Of the summed evidence asked for, against the checks asked between false notices on one axis; fitted by simulation
 * (tests/bench/drift-false-notices.ts, tests/bench/whole-press.ts) together with the waiting for a clear name: what is waited for often fades.
 */
const THRESHOLD_SHARE = 0.3;
/** How much less evidence, ln, is asked when something is outside tolerance. */
const OUT_EASE = Math.log(30);
/** A cause is clear when it is four times likelier than all others together, as much as a new name must be likelier than the old (follow.ts). */
const CLEAR = 0.8;
/**
 * With so many times the evidence asked as stations are read, at most this many, it is told with whatever name is likeliest: the fewer
 * readings a check has, the less the next one decides, and some causes cannot be told apart at all.
 */
const WAIT_AT_MOST = 8;

/** Evidence, ln, that a movement must have before it is spoken of. */
export type EvidenceAsked = {
  /** … when the name is clear, or something reads out of tolerance: that must be spoken of now. */
  readonly least: number;
  /** … whatever the name. */
  readonly unclear: number;
};

/** `asked`: checks of the whole press between false notices, both axes together; `out`: something reads out of tolerance on this axis; `read`: stations read on it at this check. */
export const evidenceAsked = (asked: number, out: boolean, read: number): EvidenceAsked => {
  const usual = Math.log(THRESHOLD_SHARE * 2 * asked);
  if (out) return { least: usual - OUT_EASE, unclear: usual - OUT_EASE };
  return { least: usual, unclear: usual + Math.log(Math.min(WAIT_AT_MOST, Math.max(1, read))) };
};

/**
 * Whether a movement is spoken of now or waited for. Turning the wrong knob costs more than a check or two of waiting: while two causes
 * explain the readings about as well, the next check most often decides between them.
 */
export const isEnough = (found: Evidence, asked: EvidenceAsked): boolean => {
  if (found.best === null || found.ln_total <= asked.least) return false;
  return (found.shares[found.best.cause] ?? 0) >= CLEAR || found.ln_total > asked.unclear;
};
