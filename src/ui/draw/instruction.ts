import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView, EventView } from '../../core/views/board-view.js';
import type { Todo } from '../../core/views/todo.js';
import { waitWords } from '../../core/views/wait-words.js';
import { glyphs, type Look } from '../theme.js';
import { type Row, run, type Style, wrapWords } from './row.js';

/** The gravest open movement, in one line; nothing when all is well. While a check is keyed this is all that is shown of it. */
export function drawEvent(view: BoardView, width: number): Row {
  const event = showing(view);
  if (event === null) return [];
  return eventRow(view, event, width);
}

/**
 * What moved, in one line with how long until it is out; then the list of what to do, worst first, a line each, never a line cut in what and
 * how much. What is left of the room has what a sample will show, why, and the caution of a movement that nobody has seen yet.
 */
export function drawMiddle(view: BoardView, width: number, rows: number, look: Look): readonly Row[] {
  const event = showing(view);
  const head = event === null ? [] : [eventRow(view, event, width)];
  const room = rows - head.length;
  const lines = listRows(view.todo, width, room, look);
  const it = view.instruction;
  // Safety words stand once a movement, and in k: not over the list each time.
  const caution = event === null || !event.seen ? it.caution : '';
  const rest = [afterWords(view), whyWords(view), caution].map((text) => say(text, width));
  const spare: Row[] = [];
  for (const block of rest) if (lines.length + spare.length + block.length <= room) spare.push(...block);
  return [...head, ...lines, ...spare];
}

/** As many lines of the list as there is room for; the last row then says how many more there are. */
function listRows(todos: readonly Todo[], width: number, rows: number, look: Look): readonly Row[] {
  const all = todos.map((todo, i) =>
    todoRows(todo, width, i === 0 && todo.kind === 'say' ? Math.max(1, rows - todos.length + 1) : 1, look),
  );
  const flat = all.flat();
  if (flat.length <= rows) return flat;
  const kept = flat.slice(0, Math.max(1, rows - 1));
  const left = todos.length - kept.length;
  return rows < 2 ? kept : [...kept, [run(`   and ${left} more: i`, 'strong')]];
}

function todoRows(todo: Todo, width: number, most: number, look: Look): readonly Row[] {
  const style: Style = todo.urgency === 'out' ? 'out' : todo.urgency === 'act' ? 'strong' : 'plain';
  const mark = todo.kind === 'say' || todo.kind === 'leave' || todo.kind === 'hold' ? '  ' : `${glyphs(look).advice} `;
  const room = width - 3;
  if (todo.kind === 'say')
    return wrapWords(todo.head, room)
      .slice(0, most)
      .map((line, i) => [run(i === 0 ? ` ${mark}` : '   '), run(line, style)]);
  return [
    [run(` ${mark}`), run(todo.head.slice(0, room), style), run(tailThatFits(todo.tail, room - todo.head.length))],
  ];
}

/** The tail whole, or its first parts, never half a word. */
function tailThatFits(tail: string, room: number): string {
  if (tail.length <= room) return tail;
  const parts = tail.split(/(?=[,;] )/);
  while (parts.length > 0 && parts.join('').length > room) parts.pop();
  return parts.join('');
}

/** The movement that the first line of the list is about, else the gravest that is open. */
function showing(view: BoardView): EventView | null {
  const open = view.events.filter((one) => one.open);
  const first = view.todo.find((one) => one.event !== null)?.event ?? view.instruction.event;
  return open.find((one) => one.id === first) ?? open[0] ?? null;
}

/** "4 grey is drifting ahead: 0.09 mm since roll 7 ...", with how long until it is out at the end. Nothing is cut: fewer words stand instead. */
function eventRow(view: BoardView, event: EventView, width: number): Row {
  const style: Style = event.severity === 'out' ? 'out' : event.severity === 'act' ? 'act' : 'strong';
  const whole = event.sentence.replace(/ OUT of tolerance\./, ' OUT.');
  const tails = outIn(view, event);
  const lines = [whole, event.short].flatMap((said) => tails.map((tail) => ({ said, tail })));
  const fits = lines.find(({ said, tail }) => said.length + tail.length <= width - 2);
  const { said, tail } = fits ?? { said: wrapWords(event.short, width - 2)[0] ?? '', tail: '' };
  return [run(' '), run(said, style), run(tail)];
}

/** "  Out in about 1 950 m, 17 min" where a crossing is foreseen, and it is not out already; then the same in fewer words. */
function outIn(view: BoardView, event: EventView): readonly string[] {
  if (event.reach === null || event.severity === 'out') return [''];
  const here_m = view.position.web_m;
  const at = atCounter(event.reach.likely_m, view);
  if (here_m === null) return [`  Out at about ${at}`];
  const in_m = event.reach.likely_m - here_m;
  if (in_m <= 0) return ['  If it went on, it is out by now', '  Out by now?'];
  const speed = view.position.speed_m_min;
  const in_min = speed === null || speed <= 0 ? null : in_m / speed;
  const words = (min: number | null, m: number | null): string =>
    `  Out in ${waitWords(m, min, view.units.length, view.repeat_mm)}`;
  return [words(in_min, in_m), words(in_min, in_min === null ? in_m : null)];
}

const say = (text: string, width: number): readonly Row[] =>
  text === '' ? [] : wrapWords(text, width - 7).map((line): Row => [run('   '), run(line)]);

function afterWords(view: BoardView): string {
  const it = view.instruction;
  const tells =
    it.tells_from_m === null || (it.moves.length === 0 && view.phase !== 'make-ready')
      ? ''
      : `A sample tells from ${atCounter(it.tells_from_m, view)} on.`;
  return [tells, it.after].filter((one) => one !== '').join(' ');
}

/** Why, without what the line of the movement has said already. */
function whyWords(view: BoardView): string {
  const event = showing(view);
  const why = view.instruction.why;
  return event === null ? why : why.replace(event.sentence, '').trim();
}
