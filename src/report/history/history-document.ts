import { axisWords } from '../../core/views/event-words.js';
import { wholeWords } from '../../core/views/number-words.js';
import { type Block, list, type ReportDocument, type Section, say } from '../document.js';
import { plainView } from '../plain-words.js';
import { ENOUGH_TURNS, gainWords } from '../run/gain-words.js';
import { shortenCells } from '../shorten.js';
import type { PressHistory, StationHistory } from './press-history.js';

/** History across runs in words, a section a press; metres. */
export const historyDocument = (presses: readonly PressHistory[]): ReportDocument => ({
  title: 'History across runs',
  subtitle: 'Made from the logs of the runs. Rates are movements for each 10 000 m made.',
  sections:
    presses.length === 0
      ? [{ id: 'none', title: 'No runs', blocks: [say('No run has been recorded yet.')] }]
      : plainView(presses).map((press, index) => shortenCells(pressSection(press, index))),
});

const pressSection = (press: PressHistory, index: number): Section => ({
  id: `press-${index + 1}`,
  title: press.press,
  blocks: [
    say(
      `${press.runs} ${press.runs === 1 ? 'run' : 'runs'}, ${wholeWords(press.made_m)} m made, ${wholeWords(press.held_m)} m held, the web stretched or shifted ${timesWords(press.web_movements)}.${causeWords(press.causes)}`,
    ),
    ...standing(press.stations),
    {
      kind: 'table',
      caption: 'Stations',
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Movements', numbers: true },
        { title: 'each 10 000 m', numbers: true },
        { title: 'Usually' },
        { title: 'Runs with a dirty plate', numbers: true },
        { title: 'Plates stay clean, m' },
      ],
      rows: press.stations.map((station) => [
        station.station,
        String(station.movements),
        station.per_10_km === null ? '–' : station.per_10_km.toFixed(2),
        USUAL[station.usual ?? 'none'],
        String(station.dirty_runs),
        station.plate_life_m === null
          ? 'not known'
          : `about ${wholeWords(Math.round(station.plate_life_m / 100) * 100)}`,
      ]),
    },
    ...ways(press.stations),
    ...knobs(press.stations),
    {
      kind: 'table',
      caption: 'By month',
      head: 0,
      columns: [
        { title: 'Month' },
        { title: 'Made, m', numbers: true },
        { title: 'Movements', numbers: true },
        { title: 'each 10 000 m', numbers: true },
      ],
      rows: press.months.map((month) => [
        month.month,
        wholeWords(month.made_m),
        String(month.movements),
        month.per_10_km.toFixed(2),
      ]),
    },
  ],
});

/** What usually moves on this press. */
function causeWords(causes: PressHistory['causes']): string {
  const all = Object.values(causes).reduce((sum, count) => sum + count, 0);
  const [most] = [...CAUSES].sort((a, b) => causes[b.cause] - causes[a.cause]);
  return all === 0 || most === undefined ? '' : ` Usual cause: ${most.words} (${causes[most.cause]} of ${all}).`;
}

const CAUSES = [
  { cause: 'station', words: 'one station' },
  { cause: 'reference', words: 'the reference' },
  { cause: 'web', words: 'the web' },
  { cause: 'several', words: 'several stations at once' },
] as const;

const timesWords = (count: number): string => (count === 0 ? 'never' : count === 1 ? 'once' : `${count} times`);

const USUAL = { none: 'never moved', step: 'a step', ramp: 'a drift', 'as often a step as a drift': 'either' };

/** "Station 4 moves three times as often as the others." from twice as often on. */
function standing(stations: readonly StationHistory[]): readonly Block[] {
  const often = stations.flatMap(({ station, times_others, movements }) =>
    times_others !== null && times_others >= 2
      ? [`Station ${station} moves ${times_others.toFixed(1)} times as often as the others (${movements} movements).`]
      : [],
  );
  return often.length === 0 ? [] : [list(often)];
}

/** Which way each station moves, how fast, and where to look. */
function ways(stations: readonly StationHistory[]): readonly Block[] {
  const rows = stations.flatMap(({ station, ways: of }) =>
    of
      .toSorted((a, b) => b.movements - a.movements)
      .map(({ axis, way, movements, per_10_km, mean_mm, runs }) => [
        station,
        axis,
        way,
        String(movements),
        per_10_km === null ? '–' : per_10_km.toFixed(2),
        Math.abs(mean_mm).toFixed(2),
        runs.join(', '),
      ]),
  );
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: 'Which way they move',
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Axis' },
        { title: 'Way' },
        { title: 'Movements', numbers: true },
        { title: 'each 10 000 m', numbers: true },
        { title: 'Mean, mm', numbers: true },
        { title: 'Newest runs' },
      ],
      rows,
    },
  ];
}

function knobs(stations: readonly StationHistory[]): readonly Block[] {
  const rows = stations.flatMap(({ station, gain }) =>
    gain.map((known) => [
      station,
      axisWords(known.axis),
      String(known.turns),
      gainWords(known.gain, known.turns),
      known.turns < ENOUGH_TURNS
        ? 'too few to say'
        : known.backlash_mm === null
          ? 'none found'
          : known.backlash_mm.toFixed(2),
    ]),
  );
  if (rows.length === 0) return [say('No turn of a knob was read afterwards, so nothing is known of the knobs.')];
  return [
    {
      kind: 'table',
      caption: 'What the knobs really did',
      head: 0,
      columns: [
        { title: 'Station' },
        { title: 'Direction' },
        { title: 'Turns read', numbers: true },
        { title: 'Moved for each 0.10 turned', numbers: true },
        { title: 'Slack when reversed, mm' },
      ],
      rows,
    },
  ];
}
