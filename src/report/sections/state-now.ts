import { AXES } from '../../core/axis.js';
import { counterAtWeb } from '../../core/counter.js';
import { placesOf } from '../../core/views/at-counter.js';
import type { StationAxisView, StationView } from '../../core/views/board-view.js';
import { loupeVerdict } from '../../core/views/loupe-words.js';
import { registerUnitHeading, signedNumber, wholeWords } from '../../core/views/number-words.js';
import { ROLL_WORD, rollGroups } from '../../core/views/roll-groups.js';
import { type Block, type Section, say, type Table } from '../document.js';
import { fullStop, type Telling } from '../telling.js';
import { tracedBlocks } from './traced.js';

/** Section 1: running or stopped, where, and the last reading and state of every station. */
export function stateNow(telling: Telling): Section {
  const { view } = telling;
  return {
    id: 'state-now',
    title: '1 State now',
    blocks: [
      ...tracedBlocks(telling),
      ...madeWords(telling),
      ...counterWords(telling),
      ...rollWords(telling),
      stationTable(telling),
      say(signWords(telling)),
      ...pairWords(telling),
      ...sensorWords(view.board.sensor),
      ...loupeTable(telling),
    ],
  };
}

/** "Running, at 21 450 m (estimated), finished roll 9, 118 m/min. OK to run was given by JK." */
export function stateSentence(telling: Telling): string {
  const { board, passed_by } = telling.view;
  const { position } = board;
  const where =
    position.web_m === null
      ? 'no counter keyed yet'
      : `at ${telling.at(position.web_m)}${position.estimated ? ' (estimated)' : ''}`;
  const roll = board.finished_roll.running === null ? '' : `, finished roll ${board.finished_roll.running}`;
  const speed =
    board.phase === 'running' && position.speed_m_min !== null ? `, ${wholeWords(position.speed_m_min)} m/min` : '';
  const passed = passed_by === null ? 'OK to run has not been given.' : fullStop(`OK to run was given by ${passed_by}`);
  return `${PHASES[board.phase]} ${where}${roll}${speed}. ${settling(telling)}${passed}`;
}

const PHASES = {
  'make-ready': 'In make-ready,',
  running: 'Running,',
  stopped: 'Stopped,',
  settling: 'Running but settling,',
  ended: 'The run has ended,',
};

function settling(telling: Telling): string {
  const until = telling.view.board.settle_until_m;
  return until === null ? '' : `Look, do not turn, until ${telling.at(until)}. `;
}

function madeWords({ view, long, clock }: Telling): readonly Block[] {
  const { made, looked_only, sensor, withdrawn } = view.checks;
  const length =
    view.made_m === null
      ? 'How much was made is not known.'
      : `Made since ${view.since_web_m === null ? 'OK to run' : clock.time(view.since_at)}: ${long(view.made_m)}.`;
  const kinds = [
    ...(looked_only > 0 ? [`${looked_only} of them looked at without numbers`] : []),
    ...(sensor > 0 ? [`${sensor} of them by the sensor`] : []),
    ...(withdrawn > 0 ? [`${withdrawn} taken back`] : []),
  ];
  return [say(`${length} Checks made: ${made}${kinds.length > 0 ? ` (${kinds.join(', ')})` : ''}.`)];
}

/** Where the counter was not zero at OK to run, what ties the places of this page to those in files. */
const counterWords = ({ view, at }: Telling): readonly Block[] =>
  view.passed_by === null || counterAtWeb(0, placesOf(view.board).counters ?? []) === 0
    ? []
    : [
        say(
          `Places in this page are what the press counter showed then. OK to run was at ${at(0)}; web positions in files count from there.`,
        ),
      ];

/** The row of finished rolls, as it stands on the board; nothing before the first is off. */
function rollWords({ view }: Telling): readonly Block[] {
  const groups = rollGroups(view.board.rolls).map(({ state, rolls }) => `${rolls.join(' ')} ${ROLL_WORD[state]}`);
  if (groups.length === 0) return [];
  const { running } = view.board.finished_roll;
  const told = groups.some((one) => one.endsWith(ROLL_WORD['not told'])) ? ' Not told: no check since tells yet.' : '';
  return [say(`Finished rolls: ${[...groups, ...(running === null ? [] : [`${running} now`])].join(', ')}.${told}`)];
}

function stationTable(telling: Telling): Table {
  const { board } = telling.view;
  const unit = registerUnitHeading(board.units.register);
  return {
    kind: 'table',
    caption: `Last readings against the reference, in ${unit}`,
    head: 0,
    columns: [
      { title: 'Station' },
      { title: 'Along', numbers: true },
      { title: 'is' },
      { title: 'Across', numbers: true },
      { title: 'is' },
      { title: 'Allowed', numbers: true },
    ],
    rows: board.stations
      .filter(({ is_reference, read }) => !is_reference && read !== 'never')
      .map((station) => stationRow(station, telling)),
  };
}

function stationRow(station: StationView, telling: Telling): readonly string[] {
  const unit = telling.view.board.units.register;
  const { along, across } = station.axes;
  const plain = (axis: StationAxisView): string => signedNumber(axis.tolerance_mm, unit).replace('+', '');
  const allowed =
    along.tolerance_mm === across.tolerance_mm ? `± ${plain(along)}` : `± ${plain(along)} / ${plain(across)}`;
  return [station.label, lastWords(along, unit), along.state, lastWords(across, unit), across.state, allowed];
}

function lastWords(axis: StationAxisView, unit: Telling['names']['register']): string {
  if (axis.looked !== null) return `looked, ${axis.looked}`;
  return axis.last_mm === null ? '–' : signedNumber(axis.last_mm, unit);
}

const signWords = ({ view, label, names }: Telling): string =>
  `+ is ahead (downstream) and operator side, - is behind and gear side; "Allowed" is each way, along / across where they differ. Read against ${label(names.reference)}${view.checks.made === 0 ? '; nothing was read' : ''}.`;

function pairWords({ view, label, size }: Telling): readonly Block[] {
  const out = view.board.pairs.filter((pair) => pair.out && pair.apart_mm !== null);
  if (out.length === 0) return [];
  return [
    {
      kind: 'list',
      items: out.map(
        (pair) =>
          `${label(pair.stations[0])} and ${label(pair.stations[1])} trap one another and are ${size(pair.apart_mm ?? 0)} apart ${pair.axis}; allowed ${size(pair.tolerance_mm)}.`,
      ),
    },
  ];
}

const sensorWords = (sensor: Telling['view']['board']['sensor']): readonly Block[] =>
  sensor === null ? [] : [say(`Sensor: ${sensor.words}`)];

/** Keyed readings against the sensor's on the same web, where both read. */
function loupeTable({ view }: Telling): readonly Block[] {
  const unit = view.board.units.register;
  const number = (mm: number | null): string => (mm === null ? '–' : signedNumber(mm, unit));
  const rows = view.board.stations.flatMap((station) =>
    AXES.flatMap((axis) => {
      const { loupe } = station.axes[axis];
      if (loupe === undefined) return [];
      const between = loupe.low_mm === null ? '–' : `${number(loupe.low_mm)} to ${number(loupe.high_mm)}`;
      return [[station.label, axis, String(loupe.pairs), number(loupe.mean_mm), between, loupeVerdict(loupe)]];
    }),
  );
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: `Loupe less sensor on the same web, in ${registerUnitHeading(unit)} (+ ahead, + operator side); the mean and its 95 % interval`,
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Axis' },
        { title: 'Samples', numbers: true },
        { title: 'Mean', numbers: true },
        { title: 'Interval', numbers: true },
        { title: 'They' },
      ],
      rows,
    },
  ];
}
