import type { CorrectionFinding } from '../finding.js';

/** What became of a turn: a print that went the other way did not take, however far it went. */
export const turnGave = ({ took, asked_mm, got_mm }: CorrectionFinding): 'took' | 'did not take' | 'other way' =>
  Math.sign(asked_mm) * got_mm < -Math.abs(asked_mm) / 4
    ? 'other way'
    : took && asked_mm * got_mm > 0
      ? 'took'
      : 'did not take';

/** The same as it is said. */
export const GAVE = {
  took: 'it took',
  'did not take': 'it did NOT take',
  'other way': 'it went the OTHER way: which way does the knob go?',
} as const;
