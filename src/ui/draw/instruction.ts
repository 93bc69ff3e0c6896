import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView, EventView } from '../../core/views/board-view.js';
import { glyphs, type Look } from '../theme.js';
import { type Row, run, type Style, wrapWords } from './row.js';

/** The gravest open movement, in one line; nothing when all is well. While a check is keyed this is all that is shown of it. */
export function drawEvent(view: BoardView, width: number): Row {
  const first = showing(view);
  if (first === null) return [];
  return eventRows(view, first, width, 1)[0] ?? [];
}

/**
 * What moved and what to do now, most needed first: the sentence, what moved, the caution, what the hand does, what a sample
 * will show and from where, why. What does not fit is left out from the least needed up, and a line that goes on says so.
 */
export function drawMiddle(view: BoardView, width: number, rows: number, look: Look): readonly Row[] {
  const it = view.instruction;
  const loud: Style = it.urgency === 'out' || it.urgency === 'act' ? 'strong' : 'plain';
  const mark = it.moves.length > 0 ? `${glyphs(look).advice} ` : '  ';
  const event = showing(view);
  const blocks: readonly Block[] = [
    { need: [1, 6], rows: event === null ? [] : eventRows(view, event, width, 3) },
    { need: [0, 0], rows: say(it.sentence, width, loud, mark) },
    { need: [3, 3], rows: say(readAgain(view), width, 'strong') },
    { need: [4, 4], rows: it.hand.flatMap((one) => say(one, width)) },
    { need: [5, 7], rows: say(afterWords(view), width) },
    { need: [2, 2], rows: say(it.caution, width) },
    { need: [8, 8], rows: say(whyWords(view, event), width) },
  ];
  return mostNeeded(blocks, rows);
}

/** First line of a block, and the rest of it. */
type Block = { readonly need: readonly [number, number]; readonly rows: readonly Row[] };

function mostNeeded(blocks: readonly Block[], rows: number): readonly Row[] {
  const lines = blocks.flatMap((block, b) =>
    block.rows.map((line, i) => ({ line, b, i, need: block.need[i === 0 ? 0 : 1] })),
  );
  const kept = new Set([...lines].sort((a, b) => a.need - b.need || a.i - b.i).slice(0, rows));
  return lines
    .filter((one) => kept.has(one))
    .map((one) => {
      const goesOn = lines.some((other) => other.b === one.b && other.i === one.i + 1 && !kept.has(other));
      return goesOn ? [...one.line, run(' ...')] : one.line;
    });
}

function showing(view: BoardView): EventView | null {
  const open = view.events.filter((one) => one.open);
  return open.find((one) => one.id === view.instruction.event) ?? open[0] ?? null;
}

function eventRows(view: BoardView, event: EventView, width: number, most: number): readonly Row[] {
  const style: Style = event.severity === 'out' ? 'out' : event.severity === 'act' ? 'act' : 'strong';
  const more = view.events.filter((one) => one.open).length - 1;
  const tail = more > 0 ? ` (+${more} more: i)` : '';
  const all = wrapWords(event.sentence, width - 2);
  if (most === 1 && (all[0] ?? '').length + tail.length + 2 > width - (all.length > 1 ? 4 : 0))
    return [[run(' '), run(`${(all[0] ?? '').slice(0, width - 6 - tail.length)} ...`, style), run(tail)]];
  if (most === 1) return [[run(' '), run(`${all[0] ?? ''}${all.length > 1 ? ' ...' : ''}`, style), run(tail)]];
  // How many more there are stands at the end of the sentence, or of its first line where the end has no room for it.
  const fits = (all[all.length - 1] ?? '').length + tail.length + 2 <= width;
  const lines = fits ? all : wrapWords(event.sentence, width - 2 - tail.length);
  const at = fits ? all.length - 1 : 0;
  return lines.slice(0, most).map((line, i) => [run(' '), run(line, style), run(i === at ? tail : '')]);
}

function say(text: string, width: number, style: Style = 'plain', lead = '  '): readonly Row[] {
  return text === ''
    ? []
    : wrapWords(text, width - 7).map((line, i) => [run(` ${i === 0 ? lead : '  '}`), run(line, style)]);
}

function readAgain(view: BoardView): string {
  const names = view.instruction.read_again.map((id) => view.stations.find((one) => one.id === id)?.label ?? id);
  // The sentence may say it already.
  return names.length === 0 || /\bread\b/i.test(view.instruction.sentence) ? '' : `Read again: ${names.join(', ')}.`;
}

function afterWords(view: BoardView): string {
  const it = view.instruction;
  const tells = it.tells_from_m === null ? '' : `A sample tells from ${atCounter(it.tells_from_m, view)} on.`;
  return [tells, it.after].filter((one) => one !== '').join(' ');
}

/** Why, without what the line above has said already. */
const whyWords = (view: BoardView, event: EventView | null): string =>
  event === null ? view.instruction.why : view.instruction.why.replace(event.sentence, '').trim();
