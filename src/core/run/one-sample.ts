import type { Axis } from '../axis.js';
import type { Turned } from './state.js';

/** Labels this near in web are of one sample, unless a knob was turned between them, m. */
export const SAME_SAMPLE_M = 150;

/**
 * Whether a label cut at `to_m` is of the sample that was read at `from_m`: near it in web, no knob (of `axis`, when given) turned between them.
 * A turn keyed at the very counter of the first was made after it was read: where no speed is known the counter stands until somebody keys it.
 */
export const isOneSample = (
  turns: readonly Pick<Turned, 'axis' | 'web_m'>[],
  from_m: number,
  to_m: number,
  axis?: Axis,
): boolean =>
  Math.abs(to_m - from_m) <= SAME_SAMPLE_M &&
  !turns.some((t) => (axis === undefined || t.axis === axis) && t.web_m >= from_m && t.web_m < to_m);
