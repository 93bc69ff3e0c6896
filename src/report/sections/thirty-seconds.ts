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
  const lines = [...open.slice(0, MOST), ...more(open.length - MOST, 'more open movements, in section 4')];
  const holds = openHolds(telling.view).map((hold) => holdLine(hold, telling));
  const abnormal = telling.view.abnormal;
  return {
    id: 'thirty-seconds',
    title: 'In thirty seconds',
    blocks: [
      stress(stateSentence(telling)),
      list([
        ...(lines.length > 0 ? lines : [quietWords(telling)]),
        ...doNow(telling),
        ...(holds.length > 0
          ? [
              ...holds.slice(0, MOST).map((line) => `HOLD: ${line}`),
              ...more(holds.length - MOST, 'more holds, in section 3'),
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

const MOST = 3;

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
    ...instruction.hand,
    ...(instruction.caution === '' || instruction.hand.length === 0 ? [] : [instruction.caution]),
  ];
}

const isUnsure = ({ read, is_reference, axes }: StationView): boolean =>
  read === 'measure' && !is_reference && AXES.some((axis) => !axes[axis].fixed && UNSURE.has(axes[axis].state));

const UNSURE: ReadonlySet<RegisterState> = new Set(['not enough readings', 'not read'] as const);
