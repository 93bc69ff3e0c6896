import type { BoardView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import type { Look } from '../theme.js';
import { bigLetters } from './big-letters.js';
import { fitRows, type Row, row } from './row.js';

/** The first line of the list in letters to read across the aisle; the rest of it, and when to look again, in plain lines for whoever comes closer. */
export function drawFar(view: BoardView, width: number, rows: number, look: Look): readonly Row[] {
  const loud = view.instruction.urgency === 'out' || view.instruction.urgency === 'act' || asks(view);
  const others = view.todo
    .slice(1)
    .filter((one) => one.kind !== 'say')
    .map((one) => one.head);
  const below = others.slice(0, Math.max(0, Math.min(4, rows - 12)));
  const more = others.length - below.length;
  const lines = bigLetters(farWords(view), { width: width - 2, rows: rows - 1 - below.length }, look);
  const above = Math.max(0, Math.floor((rows - below.length - lines.length) / 2));
  const big = [
    ...Array.from({ length: above }, () => row('')),
    ...lines.map((line) => row(` ${line}`, loud ? 'strong' : 'plain')),
  ];
  return fitRows(
    [
      ...fitRows(big, width, rows - below.length),
      ...below.map((one, i) => row(` then: ${one}${i === below.length - 1 && more > 0 ? `  (and ${more} more)` : ''}`)),
    ],
    width,
    rows,
  );
}

const asks = (view: BoardView): boolean => view.todo.some((one) => one.urgency === 'act' || one.urgency === 'out');

/** As few words as say it: the first thing to do with its amount, a plate to wash or a check overdue beside it; or that all holds and when to check. */
export function farWords(view: BoardView): string {
  if (view.phase === 'ended') return 'RUN ENDED';
  const first = view.todo[0];
  const due = view.next_check?.in_m;
  const when =
    due === null || due === undefined || view.next_check?.overdue === true
      ? ''
      : ` CHECK ${lengthWords(coarse(due), view.units.length, view.repeat_mm)}`;
  if (first !== undefined && first.big !== '' && (first.urgency === 'act' || first.urgency === 'out')) {
    const beside = view.todo.slice(1).filter((one) => one.kind === 'wash' || one.kind === 'check');
    const also = beside.map((one) => ` + ${one.kind === 'check' ? 'CHECK OVERDUE' : one.big}`).join('');
    return `${first.big}${also}`;
  }
  if (view.next_check?.overdue === true) return 'CHECK OVERDUE';
  if (view.instruction.urgency === 'out') return 'OUT: LOOK';
  if (view.phase === 'settling') return 'LOOK, DO NOT TURN';
  const open = view.events.some((one) => one.open) || view.todo.some((one) => one.kind === 'plate');
  return view.phase === 'make-ready'
    ? 'MAKE-READY'
    : view.phase === 'stopped'
      ? 'STOPPED'
      : `${open ? 'WATCH' : view.instruction.sentence === 'Nothing is out.' ? 'NOTHING OUT' : 'HOLDING'}${when}`;
}

/** Two figures are enough from across the aisle, and the letters then stand still. */
function coarse(m: number): number {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(1, Math.abs(m)))) - 1);
  return Math.round(m / step) * step;
}
