import { type LabelCount, labelsIn } from './labels-in.js';
import type { RollEnd } from './roll-ends.js';
import { rollsWithin } from './roll-ends.js';

/** Web printed while register was settling: waste to check. */
export type SettlingStretch = {
  readonly from_m: number;
  readonly to_m: number;
  readonly rolls: readonly string[];
  readonly labels: number;
};

/**
 * The stretch that settles after a start, a splice or a big speed change: from there on for the job's settling metres, but
 * never beyond where the web stands now. null when nothing settles or nothing was printed since.
 */
export const settlingStretch = (
  from_m: number,
  settle_m: number,
  now_m: number,
  rolls: readonly RollEnd[],
  count: LabelCount,
): SettlingStretch | null => {
  const to_m = Math.min(from_m + settle_m, now_m);
  if (to_m <= from_m) return null;
  return { from_m, to_m, rolls: rollsWithin(rolls, from_m, to_m), labels: labelsIn(to_m - from_m, count) };
};
