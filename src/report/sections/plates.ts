import { capital } from '../../core/capital.js';
import type { StationView } from '../../core/views/board-view.js';
import { type Block, list, type Section, say } from '../document.js';
import { fullStop, type Telling } from '../telling.js';

/** Section 6: how clean each plate was when last graded, when it was last washed and whether that helped. */
export function plates(telling: Telling): Section {
  const printing = telling.view.board.stations.filter((station) => station.kind === 'print');
  const known = printing.filter(
    ({ plate }) => plate.grade !== null || plate.flaws !== null || plate.flag !== null || plate.last_wash_m !== null,
  );
  const flagged = plateFlags(telling, true);
  const washed = printing.flatMap(({ label, plate }) =>
    plate.washed == null || plate.washed.words === '' ? [] : [`Plate of ${label}: ${plate.washed.words}`],
  );
  if (known.length === 0)
    return {
      id: 'plates',
      title: TITLE,
      nothing: 'plates graded or washed',
      blocks: [say('No plate was graded and no wash is recorded.')],
    };
  const shown = printing.filter(isShown);
  return {
    id: 'plates',
    title: TITLE,
    blocks: [
      ...(shown.length === printing.length
        ? []
        : [
            say(
              `${shown.length === 0 ? 'Every plate' : 'Every other plate'} that was graded was clean when last graded.`,
            ),
          ]),
      ...(shown.length === 0 ? [] : [table(shown, telling)]),
      ...(flagged.length + washed.length === 0 ? [] : [list([...flagged, ...washed])]),
    ],
  };
}

/** Plates that somebody has to look at; a wash is told by what it helped, and among what else happened. */
const isShown = ({ plate }: StationView): boolean =>
  plate.flag !== null || (plate.grade !== null && plate.grade !== 'clean') || plate.flaw !== '';

const table = (shown: readonly StationView[], telling: Telling): Block => ({
  kind: 'table',
  caption: 'Plates when last graded',
  head: 0,
  columns: [{ title: 'Station' }, { title: 'Plate' }, { title: 'Flaws' }, { title: 'Last wash', numbers: true }],
  rows: shown.map((station) => plateRow(station, telling)),
});

const TITLE = '6 Plates';
const FLAGS = { building: 'ink is building', dirty: 'DIRTY', 'wash-due': 'a wash is due' };

const plateRow = ({ label, plate }: StationView, { at }: Telling): readonly string[] => [
  label,
  plate.grade ?? 'not graded',
  [plate.flaws === null ? '' : `${plate.flaws.flaws} in ${plate.flaws.labels} labels.`, plate.flaw]
    .filter((one) => one !== '')
    .join(' ')
    .replace(/[.]$/, '') || '–',
  plate.last_wash_m === null ? 'none recorded' : at(plate.last_wash_m),
];

/** "Plate of 4 grey: DIRTY. Graded dirty. Fill-in at the leading edge."; with `causes`, also where to look. */
export const plateFlags = ({ view }: Telling, causes = false): readonly string[] =>
  view.board.stations.flatMap(({ label, plate }) =>
    plate.flag === null
      ? []
      : [
          [
            `Plate of ${label}: ${FLAGS[plate.flag]}.`,
            plate.why === null ? '' : fullStop(capital(plate.why)),
            plate.flaw,
            causes ? (plate.cause ?? '') : '',
          ]
            .filter((one) => one !== '')
            .join(' '),
        ],
  );
