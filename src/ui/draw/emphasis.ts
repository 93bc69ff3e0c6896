import type { Axis } from '../../core/axis.js';
import type { BoardView, RegisterState } from '../../core/views/board-view.js';
import type { Style } from './row.js';

/** How loud a state is: out always; moved and drifting only as long as a movement that asks for a hand is behind it. */
export function emphasis(view: Pick<BoardView, 'events'>, station: string, axis: Axis, state: RegisterState): Style {
  if (state === 'out') return 'out';
  if (!abnormal(state)) return 'plain';
  const asked = view.events.some(
    (one) =>
      one.open &&
      one.axis === axis &&
      one.severity !== 'note' &&
      one.shifts_mm.some((shift) => shift.station === station),
  );
  return asked ? 'act' : 'strong';
}

/** States that stand in brackets. */
export const abnormal = (state: RegisterState): boolean => state === 'out' || state === 'drifting' || state === 'moved';
