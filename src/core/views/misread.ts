import type { Axis } from '../axis.js';
import { SAME_SAMPLE_M } from '../run/seen-check.js';
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
): boolean =>
  out_m.length > 0 &&
  out_m.every(
    (m) =>
      Math.abs(good_m - m) <= SAME_SAMPLE_M && !turns.some((t) => t.axis === axis && t.web_m > m && t.web_m < good_m),
  );
