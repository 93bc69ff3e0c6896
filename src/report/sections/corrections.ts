import { AXES } from '../../core/axis.js';
import type { StationView } from '../../core/views/board-view.js';
import { listWords, sideWords } from '../../core/views/event-words.js';
import type { DoneCorrection } from '../../core/views/handover-view.js';
import { turnGave } from '../../core/views/took-words.js';
import { type Block, type Section, say, type Table } from '../document.js';
import type { Telling } from '../telling.js';

/** Section 5: make-ready in one line, every turn of a knob since then, whether it took, and how much travel each knob has left. */
export function corrections(telling: Telling): Section {
  const { corrections } = telling.view;
  const done = corrections.filter((c) => !c.make_ready);
  const before = corrections.filter((c) => c.make_ready && !c.withdrawn);
  return {
    id: 'corrections',
    title: '5 Corrections and knob travel left',
    ...(done.length === 0 && before.length === 0 && lessThanHalf(telling).length === 0
      ? { nothing: 'turns of a knob' }
      : {}),
    blocks: [
      ...(before.length === 0 ? [] : [say(broughtIn(before))]),
      ...(done.length > 0 ? [doneTable(done, telling)] : before.length > 0 ? [] : [say('No knob was turned.')]),
      ...travel(telling),
    ],
  };
}

/** Make-ready in one line: the sample that was passed judged all of it at once. */
const broughtIn = (turns: readonly DoneCorrection[]): string => {
  const labels = [...new Set(turns.map(({ label }) => label))];
  const [made, them] = turns.length === 1 ? ['one turn was', 'it'] : [`${turns.length} turns were`, 'them'];
  return `In make-ready ${made} made, of ${listWords(labels)}; the sample passed for OK to run judges ${them}.`;
};

const doneTable = (done: readonly DoneCorrection[], telling: Telling): Table => ({
  kind: 'table',
  caption: 'What was turned',
  head: 0,
  columns: [
    { title: 'When' },
    { title: 'Counter', numbers: true },
    { title: 'Station' },
    { title: 'Print moved' },
    { title: 'By' },
    { title: 'Result' },
  ],
  rows: done.map((one) => [
    telling.clock.time(one.at),
    telling.at(one.web_m),
    one.label,
    turned(one, telling),
    one.by,
    took(one, telling),
  ]),
});

function turned(done: DoneCorrection, telling: Telling): string {
  const parts = [counted(done.teeth, 'tooth', 'teeth'), counted(done.divisions, 'division', 'divisions')].filter(
    (part) => part !== '',
  );
  return `${telling.size(done.move_mm)} ${sideWords(done.axis, done.move_mm)}${parts.length > 0 ? ` (${parts.join(', ')})` : ''}${done.advised ? '' : ', not advised'}`;
}

const counted = (count: number | null, one: string, many: string): string =>
  count === null || count === 0 ? '' : `${Math.abs(count)} ${Math.abs(count) === 1 ? one : many}`;

function took(done: DoneCorrection, telling: Telling): string {
  if (done.withdrawn) return 'entry taken back';
  if (done.result === null) return 'not read yet';
  const got = `${telling.size(done.result.got_mm)} ${sideWords(done.axis, done.result.got_mm)}`;
  return `${TOOK[turnGave(done.result, done.got_sd_mm)]}: ${got}`;
}

const TOOK = {
  took: 'took',
  'did not take': 'did NOT take',
  'other way': 'went the OTHER way',
  'not told': 'too little to tell',
} as const;

function travel(telling: Telling): readonly Block[] {
  const known = telling.view.board.stations.some(({ axes }) => AXES.some((axis) => axes[axis].travel_left_mm !== null));
  const used = lessThanHalf(telling);
  if (known && used.length === 0)
    return [say('Every knob whose travel is known has more than half of it left each way.')];
  if (!known)
    return [
      say(
        'Knob travel left is not known: the press file does not say that knobs are centred before a run, or how far they go.',
      ),
    ];
  return [
    {
      kind: 'table',
      caption: 'Knob travel left, where it is less than half',
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Ahead', numbers: true },
        { title: 'Behind', numbers: true },
        { title: 'Operator side', numbers: true },
        { title: 'Gear side', numbers: true },
      ],
      rows: used.map((station) => [
        station.label,
        ...left(station, 'along', telling),
        ...left(station, 'across', telling),
      ]),
    },
  ];
}

/** Stations with a knob that has used more than half of its travel one way. */
const lessThanHalf = ({ view }: Telling): readonly StationView[] =>
  view.board.stations.filter(({ axes }) =>
    AXES.some((axis) => {
      const travel = axes[axis].fixed ? null : axes[axis].travel_left_mm;
      return travel !== null && Math.min(travel.plus, travel.minus) < (travel.plus + travel.minus) / 4;
    }),
  );

function left(station: StationView, axis: 'along' | 'across', { size }: Telling): readonly [string, string] {
  const { travel_left_mm, fixed } = station.axes[axis];
  if (fixed) return ['fixed', 'fixed'];
  return travel_left_mm === null
    ? ['not known', 'not known']
    : [size(Math.max(0, travel_left_mm.plus)), size(Math.max(0, travel_left_mm.minus))];
}
