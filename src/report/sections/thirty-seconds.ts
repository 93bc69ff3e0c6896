import { AXES } from '../../core/axis.js';
import type { RegisterState, StationView } from '../../core/views/board-view.js';
import { listWords } from '../../core/views/event-words.js';
import { list, type Section, stress } from '../document.js';
import { openHolds } from '../open-holds.js';
import { fullStop, type Telling } from '../telling.js';
import { holdLine, noHoldWords } from './holds.js';
import { dueWords } from './next-check.js';
import { plateFlags } from './plates.js';
import { stateSentence } from './state-now.js';

/** What must be known in thirty seconds: running or not, what is wrong, what to do, what to hold, what comes next. */
export function thirtySeconds(telling: Telling): Section {
  const { board } = telling.view;
  const open = openMovements(telling);
  const lines = [...shown(open), ...more(open.length - shown(open).length, 'more open movements, in section 4')];
  // What goes on first, then the newest: old ones are the last to be left out.
  const holds = openHolds(telling.view)
    .toSorted((a, b) => Number(a.to_m !== null) - Number(b.to_m !== null) || b.from_m - a.from_m)
    .map((hold) => holdLine(hold, telling));
  const abnormal = telling.view.abnormal;
  return {
    id: 'thirty-seconds',
    title: 'In thirty seconds',
    blocks: [
      stress(stateSentence(telling)),
      list([
        ...sinceHandover(telling),
        ...(lines.length > 0 ? lines : [quietWords(telling)]),
        ...doNow(telling),
        ...(holds.length > 0
          ? [
              ...shown(holds).map((line) => `HOLD: ${line}`),
              ...more(holds.length - shown(holds).length, 'more holds, in section 3'),
            ]
          : [noHoldWords(telling)]),
        ...plateFlags(telling).slice(0, MOST),
        ...abnormal.slice(0, MOST).map((line) => `Not as usual: ${line}`),
        ...more(abnormal.length - MOST, 'more things not as usual, in section 2'),
        ...(board.phase === 'ended' ? [] : [dueWords(telling)]),
      ]),
    ],
  };
}

/** What is new to who read the last handover, in one line; nothing when none was signed before. */
function sinceHandover({ view, clock }: Telling): readonly string[] {
  const last = (view.signed ?? []).findLast(({ at }) => at < view.made_at);
  if (last === undefined) return [];
  const found = view.stories.filter(({ found_at }) => found_at !== null && found_at > last.at).length;
  const turned = view.corrections.filter(({ at, withdrawn }) => !withdrawn && at > last.at).length;
  const rolls = view.holds.flatMap(({ parts }) => parts.filter(({ at }) => at !== null && at > last.at)).length;
  const count = (n: number, one: string, many: string): string => `${n === 0 ? 'no' : n} ${n === 1 ? one : many}`;
  return [
    `Since handover ${last.number} at ${clock.time(last.at)}: ${count(found, 'movement', 'movements')} found, ${count(turned, 'turn', 'turns')} of a knob${rolls === 0 ? '' : `, ${count(rolls, 'held roll', 'held rolls')} decided`}.`,
  ];
}

const MOST = 3;

/** One more line is no longer than the words that it was left out. */
const shown = (lines: readonly string[]): readonly string[] =>
  lines.length === MOST + 1 ? lines : lines.slice(0, MOST);

const more = (count: number, words: string): readonly string[] => (count > 0 ? [`And ${count} ${words}.`] : []);

const openMovements = (telling: Telling): readonly string[] =>
  telling.view.board.events.filter((event) => event.open).map((event) => event.sentence);

function quietWords(telling: Telling): string {
  if (telling.view.checks.made === 0)
    return 'Nothing was checked: whether register holds is not known. Make a full check first.';
  const unsure = telling.view.board.stations.filter(isUnsure).map((station) => station.label);
  return unsure.length === 0
    ? 'No movement is open: all were holding when last read.'
    : fullStop(`No movement is open, but there are not enough readings yet of ${listWords(unsure)}`);
}

function doNow(telling: Telling): readonly string[] {
  const { instruction } = telling.view.board;
  if (instruction.urgency === 'calm') return [];
  return [
    `Do now: ${instruction.sentence}`,
    ...(instruction.hand.length > 0 || instruction.why === '' ? instruction.hand : [instruction.why]),
    ...(instruction.caution === '' || instruction.hand.length === 0 ? [] : [instruction.caution]),
  ];
}

const isUnsure = ({ read, is_reference, axes }: StationView): boolean =>
  read === 'measure' && !is_reference && AXES.some((axis) => !axes[axis].fixed && UNSURE.has(axes[axis].state));

const UNSURE: ReadonlySet<RegisterState> = new Set(['not enough readings', 'not read'] as const);
