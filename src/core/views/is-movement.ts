import type { EventView } from './board-view.js';

/** Whether something moved, as far as is known by now: not one reading alone, not what later readings took back, nor one told before. */
export const isMovement = ({ how_closed, found_by, hindsight }: EventView): boolean =>
  how_closed !== 'withdrawn' &&
  (found_by ?? 'movement') === 'movement' &&
  (hindsight === undefined || hindsight === 'borne out' || hindsight === 'other');
