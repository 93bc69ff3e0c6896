import type { CorrectionFinding } from '../finding.js';

export type Gave = 'took' | 'did not take' | 'other way' | 'not told';

/** A turn that is smaller than so many standard deviations of what was read is told by no sample (own choice). */
const TOLD_FROM = 2;

/**
 * What became of a turn: a print that went the other way did not take, however far it went. `sd_mm`: how well that was read, 1 sigma; a turn
 * that is lost in it, and a result as near to one answer as to another, are not told.
 * Example: asked 0.02 mm, read to 0.03 mm: not told, whatever was read.
 */
export const turnGave = ({ took, asked_mm, got_mm }: CorrectionFinding, sd_mm: number | null = null): Gave => {
  const asked = Math.abs(asked_mm);
  const got = Math.sign(asked_mm) * got_mm;
  const sd = sd_mm ?? 0;
  if (asked < TOLD_FROM * sd) return 'not told';
  if (got < -Math.max(asked / 4, TOLD_FROM * sd)) return 'other way';
  if (took && got > 0) return 'took';
  return got + TOLD_FROM * sd >= asked ? 'not told' : 'did not take';
};

/** The same as it is said. */
export const GAVE: Readonly<Record<Gave, string>> = {
  took: 'it took',
  'did not take': 'it did NOT take',
  'other way': 'it went the OTHER way: which way does the knob go?',
  'not told': 'too little to tell from one sample',
};
