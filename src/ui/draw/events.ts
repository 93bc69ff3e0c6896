import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView, EventView, PlateView } from '../../core/views/board-view.js';
import { lengthWords } from '../../core/views/number-words.js';
import { type Row, row, wrapWords } from './row.js';

/** What moved, open ones first: state, age in metres, cause, how sure with its figure, what was done. As lines of words. */
export function eventLines(view: BoardView, width: number): readonly string[] {
  const lines: string[] = ['WHAT MOVED'];
  if (view.events.length === 0) lines.push('  Nothing has moved so far.');
  for (const event of view.events)
    lines.push(
      ...wrapped(`${stateOf(event)}  ${event.sentence}`, width, '  '),
      ...wrapped(detail(event, view), width, '      '),
      ...event.done.flatMap((one) => wrapped(`- ${one}`, width, '      ')),
    );
  if (view.hold.length > 0)
    lines.push(
      '',
      'PRODUCT TO HOLD',
      ...view.hold.flatMap((one) => [
        ...wrapped(`${one.open ? 'open' : 'closed'}  ${one.sentence}`, width, '  '),
        ...wrapped(heldFor(one), width, '      '),
      ]),
    );
  const flags = view.stations.filter((one) => one.plate.flag !== null);
  if (flags.length > 0)
    lines.push('', 'PLATES', ...flags.flatMap((one) => wrapped(`${one.label}: ${plateWords(one.plate)}`, width, '  ')));
  const acts = view.acts.slice(-8);
  if (acts.length > 0)
    lines.push(
      '',
      'LAST ENTRIES',
      ...acts.flatMap((one) => wrapped(`${one.words}${one.withdrawn ? '  (taken back)' : ''}`, width, '  ')),
    );
  return lines;
}

/** A page of its own: the list of what to do whole, for which the board may have had no room, then what moved. */
export const eventPage = (view: BoardView, width: number): readonly string[] => [
  ...listLines(view, width),
  ...eventLines(view, width),
];

/** The list whole, with its reasons; nothing where it only says how things stand. */
const listLines = (view: BoardView, width: number): readonly string[] =>
  view.todo.every((one) => one.kind === 'say')
    ? []
    : [
        'WHAT TO DO',
        ...view.todo.flatMap((one) => wrapped(`${one.head}${one.tail}`, width, '  ')),
        ...[view.instruction.why, view.instruction.after, view.instruction.caution].flatMap((words) =>
          words === '' ? [] : wrapped(words, width, '      '),
        ),
        '',
      ];

const heldFor = ({ why = '', ends = '' }: BoardView['hold'][number]): string =>
  [why === '' ? '' : `For ${why}.`, ends].filter((one) => one !== '').join(' ');

const plateWords = ({ flag, why, flaw, cause }: PlateView): string =>
  [`${flag}.`, why ?? '', flaw, cause ?? ''].filter((one) => one !== '').join(' ');

/** The same list as rows, for the side of a wide board. */
export const drawEvents = (view: BoardView, width: number, rows: number): readonly Row[] =>
  eventLines(view, width)
    .slice(0, rows)
    .map((line) => row(line, /^[A-Z]/.test(line) ? 'strong' : 'plain'));

const stateOf = (event: EventView): string =>
  event.open
    ? `${event.severity === 'out' ? 'OUT' : event.severity}${event.seen ? ', seen' : ''}`
    : event.misread !== undefined
      ? 'misread'
      : (event.how_closed ?? 'closed');

function detail(event: EventView, view: BoardView): string {
  const length = (m: number): string => atCounter(m, view);
  const here = view.position.web_m;
  const age =
    here === null
      ? ''
      : `began ${lengthWords(Math.max(0, here - event.since.web_m), view.units.length, view.repeat_mm)} ago; `;
  const sure = `${event.how_sure} (${percent(event.confidence)})`;
  if (!event.open) return `check ${event.since.check}; ${sure}`;
  // What is out has nothing to foresee.
  if (event.severity === 'out') return `${age}${sure}`;
  const { reach } = event;
  const latest = reach?.late_m === null || reach === null ? '' : `, at the latest ${length(reach.late_m)}`;
  const limit =
    reach === null
      ? ''
      : `; at the limit about ${length(reach.likely_m)}, at the earliest ${length(reach.early_m)}${latest}`;
  return `${age}${sure}; out before the next check ${percent(event.out_before_next_check)}${limit}`;
}

/** Nothing read off a press is sure to the last hundredth. */
const percent = (share: number): string =>
  share > 0.99 ? 'over 99 %' : share < 0.01 ? 'under 1 %' : `${Math.round(share * 100)} %`;

const wrapped = (text: string, width: number, indent: string): readonly string[] =>
  wrapWords(text, width - indent.length - 2).map((line, i) => `${indent}${i === 0 ? '' : '  '}${line}`);
