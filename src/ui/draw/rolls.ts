import type { BoardView } from '../../core/views/board-view.js';
import { ROLL_WORD, rollGroups } from '../../core/views/roll-groups.js';
import { type Row, type Run, run, widthOf } from './row.js';

/** The last finished rolls in a row: good, held, or not told yet by a check. What there is no room for is left out at the old end. */
export function rollRow(view: BoardView, width: number): Row {
  const title = run('rolls'.padEnd(14));
  const now = view.finished_roll.running === null ? [] : [run(`${view.finished_roll.running} now`)];
  const groups = rollGroups(view.rolls).map(
    ({ state, rolls }): Run => run(`${rolls.join(' ')} ${ROLL_WORD[state]}`, state === 'held' ? 'act' : 'plain'),
  );
  const all = [...groups, ...now];
  if (all.length === 0) return [title, run('none is off yet')];
  for (let first = 0; first < all.length; first += 1) {
    const line: Row = [title, ...all.slice(first).flatMap((one, i): Run[] => (i === 0 ? [one] : [run('   '), one]))];
    if (widthOf(line) <= width) return line;
  }
  return [title, ...now];
}
