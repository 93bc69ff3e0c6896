import type { RunState } from '../run/state.js';
import type { Instruction } from './board-view.js';
import { eventNames } from './event-names.js';
import { type Todo, turnBig, turnHead, turnTail } from './todo.js';
import { knobIn } from './todo-list.js';

/** The instruction as lines of the list: what it says, and in make-ready under that its moves, a line each. */
export const sayTodos = (state: RunState, it: Instruction): readonly Todo[] => {
  const unit = eventNames(state).register;
  const base = { urgency: it.urgency, why: it.why, event: it.event } as const;
  const say = (head: string, big = ''): Todo => ({
    ...base,
    kind: 'say',
    head,
    tail: '',
    big,
    move: null,
    station: null,
  });
  if (it.moves.length === 0) return [say(it.sentence)];
  return [
    // The sum stands over the list, a line a sentence, so that none is cut for another.
    ...it.sentence.split(/(?<=\.) /).map((line) => say(line, `${it.moves.length} to turn`)),
    ...it.moves.map((move): Todo => {
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
    }),
  ];
};
