import type { BoardView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import { glyphs, type Look } from '../theme.js';
import { type Row, row, run, type Style, wrapWords } from './row.js';

/** What happened, in one sentence; nothing when all is well. */
export function drawEvent(view: BoardView, width: number): Row {
  const open = view.events.filter((one) => one.open);
  const first = open.find((one) => one.id === view.instruction.event) ?? open[0];
  if (first === undefined) return [];
  const more = open.length > 1 ? `  (+${open.length - 1} more: i)` : '';
  const seen = first.seen ? '' : '  s seen';
  const room = width - more.length - seen.length - 2;
  const style: Style = first.severity === 'out' ? 'out' : first.severity === 'act' ? 'act' : 'note';
  const text = first.sentence.length > room ? `${first.sentence.slice(0, Math.max(0, room - 3))}...` : first.sentence;
  return [run(' '), run(text, style), run(more), run(seen, 'key')];
}

/**
 * What to do now, most needed first: the sentence, what the hand does, what a sample will show and from where, the caution, why.
 * Lines that do not fit are left out from the least needed up; the caution is never among them while something is to be turned.
 */
export function drawInstruction(view: BoardView, width: number, rows: number, look: Look): readonly Row[] {
  const it = view.instruction;
  const style: Style = it.urgency === 'out' || it.urgency === 'act' ? 'strong' : 'plain';
  const mark = it.moves.length > 0 ? `${glyphs(look).advice} ` : '  ';
  const say = (text: string, as: Style = 'plain', lead = '  '): readonly Row[] =>
    wrapWords(text, width - 3).map((line, i) => [run(` ${i === 0 ? lead : '  '}`), run(line, as)]);
  const tells =
    it.tells_from_m === null
      ? ''
      : `A sample tells from ${lengthWords(it.tells_from_m + view.position.counter_minus_web_m, view.units.length, view.repeat_mm)} on.`;
  const after = [it.after, tells].filter((one) => one !== '').join(' ');
  const readAgain =
    it.read_again.length === 0
      ? ''
      : `Read again: ${it.read_again.map((id) => view.stations.find((one) => one.id === id)?.label ?? id).join(', ')}.`;
  const blocks: readonly { readonly rows: readonly Row[]; readonly need: number }[] = [
    { rows: say(it.sentence, style, mark), need: 0 },
    { rows: readAgain === '' ? [] : say(readAgain, 'strong'), need: 2 },
    { rows: it.hand.flatMap((one) => say(one)), need: 3 },
    { rows: after === '' ? [] : say(after), need: 4 },
    { rows: it.caution === '' ? [] : say(it.caution), need: 1 },
    { rows: it.why === '' ? [] : say(it.why), need: 5 },
  ];
  let left = rows;
  const kept = new Set<number>();
  for (const { i } of blocks.map((block, i) => ({ i, need: block.need })).sort((a, b) => a.need - b.need)) {
    const size = blocks[i]?.rows.length ?? 0;
    if (size > 0 && (size <= left || i === 0)) {
      kept.add(i);
      left -= size;
    }
  }
  const lines = blocks.filter((_, i) => kept.has(i)).flatMap((block) => block.rows);
  return lines.length === 0 ? [row('')] : lines.slice(0, rows);
}
