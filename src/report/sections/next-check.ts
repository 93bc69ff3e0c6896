import { listWords, reachSentence } from '../../core/views/event-words.js';
import { list, type Section, say } from '../document.js';
import { fullStop, type Telling } from '../telling.js';

/** Section 7: when the next check is due and what to look at first. */
export function nextCheck(telling: Telling): Section {
  const watch = watchLines(telling);
  const ended = telling.view.board.phase === 'ended';
  return {
    id: 'next-check',
    title: '7 Next check and what to watch',
    ...(watch.length === 0 ? { nothing: 'what to watch first' } : {}),
    blocks: [
      say(ended ? 'The run has ended: no check is due.' : dueWords(telling)),
      watch.length === 0 ? say('Nothing in particular to watch.') : list(watch),
    ],
  };
}

/** "Next check: in 620 m or 5 min, roll off." or that it is overdue. */
export function dueWords({ view, long }: Telling): string {
  const due = view.board.next_check;
  if (due === null) return 'Next check: none is planned in the job file. Check at the next roll change at the latest.';
  if (due.overdue) return fullStop(`Next check is OVERDUE: ${due.why}`);
  const parts = [
    ...(due.in_m === null ? [] : [long(due.in_m)]),
    ...(due.in_min === null ? [] : [minutes(due.in_min, due.in_m !== null)]),
  ];
  return fullStop(`Next check: ${parts.length === 0 ? '' : `in ${parts.join(' or ')}, `}${due.why}`);
}

const minutes = (min: number, about: boolean): string =>
  min < 0.5 ? 'under 1 min' : `${about ? 'about ' : ''}${Math.round(min)} min`;

function watchLines(telling: Telling): readonly string[] {
  const { board } = telling.view;
  const worth = board.stations.filter((station) => station.worth_measuring).map((station) => station.label);
  const pulled = board.pulled.map(
    (pull) =>
      `Sample of check ${pull.check}, pulled ${telling.clock.time(pull.at)} at ${telling.at(pull.web_m)}, is not keyed yet.`,
  );
  return [
    ...pulled,
    ...(board.instruction.read_again.length > 0
      ? [`Read again: ${listWords(board.instruction.read_again.map(telling.label))}.`]
      : []),
    ...(worth.length > 0 ? [`Measure first: ${listWords(worth)}.`] : []),
    ...board.events
      .filter((event) => event.open && event.severity !== 'out' && board.phase !== 'ended')
      .map(
        (event) =>
          `Movement ${event.id}: ${reachSentence(event.reach, telling.names, board.position.web_m) || 'watch whether it goes on.'}`,
      ),
    ...(board.instruction.tells_from_m === null
      ? []
      : [`After turning, a sample tells from ${telling.at(board.instruction.tells_from_m)} on.`]),
  ];
}
