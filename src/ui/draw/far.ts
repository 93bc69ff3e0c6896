import type { BoardView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import type { Look } from '../theme.js';
import { bigLetters } from './big-letters.js';
import { fitRows, type Row, row, type Style } from './row.js';
import { shortLabel } from './table.js';

/** State and instruction in letters to read across the aisle; one plain line above for whoever comes closer. */
export function drawFar(view: BoardView, width: number, rows: number, look: Look): readonly Row[] {
  const words = farWords(view);
  const style: Style =
    view.instruction.urgency === 'out' ? 'out' : view.instruction.urgency === 'act' ? 'strong' : 'plain';
  const lines = bigLetters(words, { width: width - 2, rows: rows - 1 }, look);
  const above = Math.max(0, Math.floor((rows - lines.length) / 2));
  return fitRows(
    [
      ...Array.from({ length: above }, () => row('')),
      ...lines.map((line) =>
        row(` ${line}`, style === 'out' && !look.color ? 'strong' : style === 'out' ? 'strong' : style),
      ),
    ],
    width,
    rows,
  );
}

/** As few words as say it: what is wrong and what to turn; or that all holds and when to check. */
export function farWords(view: BoardView): string {
  if (view.phase === 'ended') return 'RUN ENDED';
  const { moves, urgency } = view.instruction;
  const move = moves[0];
  const station = view.stations.find((one) => one.id === move?.station);
  if (move !== undefined && station !== undefined) {
    const turn = move.turn === 'retard' || move.turn === 'advance' ? move.turn : move.turn.replace('to ', '');
    const teeth = move.teeth === 0 ? '' : ` ${Math.abs(move.teeth)} ${Math.abs(move.teeth) === 1 ? 'tooth' : 'teeth'}`;
    const more = moves.length > 1 ? ` + ${moves.length - 1}` : '';
    const divisions = move.divisions === null || move.divisions === 0 ? '' : ` ${Math.abs(move.divisions)}`;
    const stop = move.when === 'stop' ? ' at a stop' : '';
    return `${urgency === 'out' ? 'OUT: ' : ''}${turn} ${shortLabel(station.label)}${teeth}${divisions}${stop}${more}`;
  }
  if (view.next_check?.overdue === true) return 'CHECK OVERDUE';
  const again = view.instruction.read_again.map((id) =>
    shortLabel(view.stations.find((one) => one.id === id)?.label ?? id),
  );
  if (again.length > 0) return `${urgency === 'out' ? 'OUT: ' : ''}read ${again.join(', ')} again`;
  if (urgency === 'out') return 'OUT: LOOK';
  if (view.phase === 'settling') return 'LOOK, DO NOT TURN';
  const dirty = view.stations.find((one) => one.plate.flag === 'dirty');
  if (urgency === 'act' && dirty !== undefined) return `WASH ${shortLabel(dirty.label)}`;
  const open = view.events.some((one) => one.open);
  const due = view.next_check?.in_m;
  const when =
    due === null || due === undefined ? '' : ` CHECK ${lengthWords(coarse(due), view.units.length, view.repeat_mm)}`;
  return view.phase === 'make-ready'
    ? 'MAKE-READY'
    : view.phase === 'stopped'
      ? 'STOPPED'
      : `${open ? 'WATCH' : 'HOLDING'}${when}`;
}

/** Two figures are enough from across the aisle, and the letters then stand still. */
function coarse(m: number): number {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(1, Math.abs(m)))) - 1);
  return Math.round(m / step) * step;
}
