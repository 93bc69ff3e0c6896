import type { Axis } from '../axis.js';
import type { PerAxisLevels } from './advise.js';

/** Share of the tolerance that a movement may use up before it is acted on. */
const ACTION_SHARE = 0.6;

/** Whether a movement has brought one of its stations past the action limit. */
export const pastActionLimit = (
  levels: PerAxisLevels,
  axis: Axis,
  reached: readonly string[],
  toleranceOf: (station: string) => number,
): boolean => reached.some((id) => Math.abs(levels[axis][id]?.mean_mm ?? 0) >= ACTION_SHARE * toleranceOf(id));
