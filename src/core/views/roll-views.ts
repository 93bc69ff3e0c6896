import type { RunState } from '../run/state.js';
import { type HoldSpan, isOpenHold } from './hold-views.js';

/** How a finished roll stands: nothing was wrong in it as far as it was checked, some of it is on hold, or no check since tells yet. */
export type RollView = { readonly roll: string; readonly state: 'good' | 'held' | 'not told' };

/** So many of the last finished rolls. */
const SHOWN = 12;

/** The last finished rolls, oldest first. A roll is good once a check was made at its end or after, and none of it is held. */
export const rollViews = ({ judged }: RunState, spans: readonly HoldSpan[]): readonly RollView[] => {
  const held = new Set(spans.filter(isOpenHold).flatMap((span) => span.rolls));
  const told_m = judged.last_check?.web_m ?? -Infinity;
  return judged.marks
    .flatMap((mark): RollView[] =>
      mark.kind !== 'finished' || mark.roll === null
        ? []
        : [
            {
              roll: mark.roll,
              state: held.has(mark.roll) ? 'held' : mark.web_m <= told_m + SLACK_M ? 'good' : 'not told',
            },
          ],
    )
    .slice(-SHOWN);
};

/** A sample off the outside of a roll is pulled a little before it is told to be off. */
const SLACK_M = 1;
