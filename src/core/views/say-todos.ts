import type { RunState } from '../run/state.js';
import type { Instruction } from './board-view.js';
import { eventNames } from './event-names.js';
import { type Todo, turnBig, turnHead, turnTail } from './todo.js';
import { knobIn } from './todo-list.js';

/** The instruction as lines of the list: its moves, a line each (make-ready), or what it says. */
export const sayTodos = (state: RunState, it: Instruction): readonly Todo[] => {
  const unit = eventNames(state).register;
  const base = { urgency: it.urgency, why: it.why, event: it.event } as const;
  if (it.moves.length > 0)
    return it.moves.map((move) => {
      const knob = knobIn(state, move);
      return {
        ...base,
        kind: 'turn',
        head: turnHead(move, knob, unit),
        tail: turnTail(move, knob),
        big: turnBig(move, knob, unit),
        move,
        station: move.station,
      };
    });
  return [{ ...base, kind: 'say', head: it.sentence, tail: '', big: '', move: null, station: null }];
};
