import type { Axis } from '../axis.js';
import { isOneSample } from '../run/one-sample.js';
import type { Judged } from '../run/state.js';

/**
 * Whether what read off was disproved on its own sample: the good reading lies on the same sample (within 150 m of web, no knob of the axis
 * turned between), so nothing can have come back meanwhile. It was most likely misread.
 */
export const wasMisread = (
  { turns }: Pick<Judged, 'turns'>,
  axis: Axis,
  out_m: readonly number[],
  good_m: number,
): boolean => out_m.length > 0 && out_m.every((m) => isOneSample(turns, m, good_m, axis));
