import { flawList } from '../../core/plates/flaw.js';
import { echoKeyed } from '../../core/reading.js';
import { atCounter } from '../../core/views/at-counter.js';
import type { BoardView, StationView } from '../../core/views/board-view.js';
import { type CellName, cellsOf, isLookCell } from '../check/cells.js';
import { type Draft, isDoubted, rowOf } from '../check/draft.js';
import { askedOf, flawIn, isUnclean, KIND_ANSWERS, PLACE_ANSWERS, saysIt, unnamed } from '../check/flaw.js';
import { gridView } from '../check/grid-view.js';
import { MARGIN_NAMES } from '../check/margins.js';
import { plateEcho } from '../check/plate-text.js';
import { labelOf } from '../check/second-label.js';
import { draftWords } from '../check/to-check.js';
import { glyphs, type Look } from '../theme.js';
import { endOf } from './end-of.js';
import { type Row, type Run, row, run, widthOf, wrapWords } from './row.js';

export type GridBox = { readonly width: number; readonly rows: number };

const CELL = { name: 17, along: 21, across: 25, plate: 15 } as const;

/** The plate's field takes what the others leave. */
const plateWidth = (width: number): number => Math.max(CELL.plate, width - 2 - CELL.name - CELL.along - CELL.across);

/** The check grid: stations by along, across and plate; below it what the field wants, and the line that saves. */
export function drawGrid(draft: Draft, plain: BoardView, box: GridBox, look: Look): readonly Row[] {
  const view = gridView(plain, draft);
  const title = titleRow(draft, view, box.width);
  const head = row(`${' '.repeat(CELL.name + 1)}${'along'.padEnd(CELL.along)}${'across'.padEnd(CELL.across)}plate`);
  const hints = hintRows(draft, view, box.width).slice(0, 2);
  const room = Math.max(1, box.rows - 3 - Math.max(1, hints.length));
  const here =
    draft.at === 'save'
      ? view.stations.length - 1
      : view.stations.findIndex((one) => draft.at !== 'save' && one.id === draft.at.station);
  const first = Math.max(
    0,
    Math.min(here - room + 1 + (here < view.stations.length - 1 ? 1 : 0), view.stations.length - room),
  );
  const stations = view.stations
    .slice(first, first + room)
    .map((station) => stationRow(draft, station, view, box.width, look));
  return [title, head, ...stations, ...hints, saveRow(draft, plain, box.width)];
}

function titleRow(draft: Draft, view: BoardView, width: number): Row {
  const sample = labelOf(draft, view);
  if (sample !== null) {
    const at = atCounter(sample.web_m, view);
    const head = run(` CHECK ${draft.check}: SECOND LABEL of sample ${sample.check}, ${at}`, 'strong');
    const old = run(`  shows the old setting of ${labels(sample.shows_old_setting, view)}`, 'note');
    const own = run('   s: a sample of its own');
    // What fits whole.
    return (
      [
        [head, ...(sample.shows_old_setting.length > 0 ? [old] : [own])],
        [head, own],
      ].find((line) => widthOf(line) <= width) ?? [head]
    );
  }
  const pulled = view.pulled.find((one) => one.check === draft.check);
  const old = pulled?.shows_old_setting ?? [];
  const at = atCounter(pulled?.web_m ?? draft.web_m, view);
  const roll = draft.roll === null ? '' : ` off roll ${draft.roll}`;
  const again = view.last_sample !== undefined && view.instruction.read_again.length > 0;
  const plain = run(` CHECK ${draft.check}${roll}, pulled at ${at}`, 'strong');
  const other = run(again ? `   s: second label of sample ${view.last_sample?.check}` : '');
  if (old.length === 0) return widthOf([plain, other]) <= width ? [plain, other] : [plain];
  const head = run(` CHECK ${draft.check}${roll}, ${at}  `, 'strong');
  const whole = run(`shows the old setting of ${labels(old, view)}`, 'note');
  return widthOf([head, whole]) <= width
    ? [head, whole]
    : [head, run(`shows the old setting of ${old.length} stations`, 'note')];
}

const labels = (ids: readonly string[], view: BoardView): string =>
  ids.map((id) => view.stations.find((one) => one.id === id)?.label ?? id).join(', ');

function stationRow(draft: Draft, station: StationView, view: BoardView, room: number, look: Look): Row {
  const cells = cellsOf(station);
  const cell = (name: CellName): readonly Run[] => {
    const width = name === 'plate' ? plateWidth(room) : CELL[name];
    if (!cells.includes(name)) return [run((name === 'along' ? notRead(station) : '').padEnd(width))];
    const focused =
      draft.at !== 'save' && draft.at.station === station.id && draft.at.cell === name && draft.margins === null;
    const text = cellText(draft, station, name, view, focused, room, look).slice(0, width - 1);
    return focused ? [run(text.padEnd(width - 1), 'field'), run(' ')] : [run(text.padEnd(width))];
  };
  const worth = station.worth_measuring ? '*' : ' ';
  return [
    run(
      `${worth}${station.label.slice(0, CELL.name - 1).padEnd(CELL.name)}`,
      station.worth_measuring ? 'strong' : 'plain',
    ),
    ...cell('along'),
    ...cell('across'),
    ...cell('plate'),
  ];
}

const notRead = (station: StationView): string => (station.is_reference ? 'reference' : 'not read');

/** As typed with the cursor in it, and always as it will be taken: "5A 0.05 AHEAD". */
function cellText(
  draft: Draft,
  station: StationView,
  name: CellName,
  view: BoardView,
  focused: boolean,
  width: number,
  look: Look,
): string {
  const rowHere = rowOf(draft, station.id);
  const text = rowHere[name];
  const looked = rowHere.look === null ? '' : rowHere.look === 'in' ? 'looked, in' : 'LOOKED OFF';
  const cursor = focused ? glyphs(look).cursor : '';
  if (name === 'plate') {
    const said = [plateEcho(text), flawList(flawIn(draft, station.id))].filter((one) => one !== '').join(', ');
    const typed = focused ? `${text}${cursor} ` : '';
    return typed + wholeParts(said, plateWidth(width) - 1 - typed.length);
  }
  if (isLookCell(station, name)) return `${looked}${cursor}`;
  if (text === '') return focused ? `${cursor}${looked}` : looked;
  // The field is narrow: which sides there are stands in the line below.
  const echo = echoKeyed(text, view.units.register, name)
    .replace(/, A .*$/, ', A or B?')
    .replace(/, O .*$/, ', O or G?')
    .replace(/^not a number$/, 'no number');
  // A doubt stands beside the reading until it was asked about.
  const doubted = isDoubted(draft, station.id, name) ? '? ' : '';
  return focused ? `${text}${cursor} ${echo}` : doubted + echo;
}

/** What fits of a list, never half a word or half a number: "dirty, 12 in 40" gives way to "dirty 12/40". */
function wholeParts(said: string, width: number): string {
  if (said.length <= width) return said;
  const parts = said.replace(/, (\d+) in (\d+)/, ' $1/$2').split(', ');
  while (parts.length > 1 && parts.join(', ').length > width) parts.pop();
  const left = parts.join(', ');
  return left.length <= width ? left : left.replace(/ \d+\/\d+$/, '');
}

function hintRows(draft: Draft, view: BoardView, width: number): readonly Row[] {
  const asked = askedOf(draft);
  if (asked !== null && !draft.writing) return flawRows(draft, asked, view);
  if (draft.message !== null) return wrapWords(draft.message, width - 2).map((line) => [run(' '), run(line, 'act')]);
  if (draft.writing) return [[run(` note: ${endOf(draft.note, width - 9)}`), run(' ', 'field')]];
  if (draft.margins !== null) {
    const { margins } = draft;
    const fields = MARGIN_NAMES.flatMap((name, i): readonly Run[] => [
      run(`${i === 0 ? ' ' : '  '}${name} `),
      run(` ${margins.texts[i] ?? ''} `, i === margins.at ? 'field' : 'plain'),
    ]);
    return [row(' Margins between print and cut; front is toward the rewind. Esc goes back.'), fields];
  }
  const worth = view.stations.filter((one) => one.worth_measuring).map((one) => one.label);
  const best = worth.length === 0 ? '' : ` * most worth measuring: ${worth.join(', ')}.`;
  return [
    row(fits(` ${wanted(draft, view)}`, best, width)),
    row(
      view.stations.some((one) => isUnclean(draft, one.id))
        ? ' l looked, all in  p plates clean  w both  f flaw  n note  Esc keeps it'
        : ' l looked, all in  p plates clean  w both  i/x this in/off  n note  Esc keeps it',
    ),
  ];
}

/** What is asked of a plate that is not clean, as soon as it is graded so: every answer with its key, those given in brackets. */
function flawRows(draft: Draft, station: string, view: BoardView): readonly Row[] {
  const flaw = flawIn(draft, station);
  const label = (view.stations.find((one) => one.id === station)?.label ?? station).slice(0, 14);
  const answers = (all: typeof KIND_ANSWERS): readonly Run[] =>
    all.map((one) =>
      saysIt(flaw, one) ? run(`[${one.key} ${one.words}]`, 'field') : run(` ${one.key} ${one.words} `),
    );
  return [
    draft.message === null
      ? [run(` ${label}, what flaw? `, 'strong'), ...answers(KIND_ANSWERS)]
      : [run(` ${draft.message}`, 'act')],
    [run(' '), ...answers(PLACE_ANSWERS), run(' Enter passes', 'strong')],
  ];
}

/** The second part is said only where there is room for all of it. */
const fits = (first: string, second: string, width: number): string =>
  (first + second).length <= width ? first + second : first.slice(0, width);

function wanted(draft: Draft, view: BoardView): string {
  const { at } = draft;
  if (at === 'save') {
    const flaw = unnamed(draft, view);
    return flaw === null
      ? 'Enter saves. Arrows back to what is off.'
      : `Enter saves. f goes to the plate of ${flaw.label}: what flaw?`;
  }
  const station = view.stations.find((one) => one.id === at.station);
  if (station === undefined) return '';
  if (at.cell === 'plate') return 'c clean, b building, d dirty; flaws as 3/40.';
  if (isLookCell(station, at.cell)) return 'Only looked at: i in, x off.';
  if (station.kind === 'die')
    return at.cell === 'along'
      ? 'Is the CUT ahead of the print (A) or behind (B)? m margins.'
      : 'Cut to the operator side (O) or gear side (G)? m margins.';
  return at.cell === 'along' ? 'Number, then A ahead or B behind.' : 'Number, then O operator or G gear side.';
}

function saveRow(draft: Draft, view: BoardView, width: number): Row {
  const note = draft.note === '' ? '' : ' + note';
  // In a field Enter takes the field; only down here does it save.
  const [head, tail] =
    draft.at === 'save'
      ? [` Save check ${draft.check}: `, `${note}? Enter`]
      : [` To save check ${draft.check}: `, `${note}: End, Enter`];
  const room = Math.max(0, width - 1 - head.length - tail.length);
  const words = draftWords(draft, view);
  // What Enter does stays in sight however much there is to say.
  const said = words.length <= room ? words : `${words.slice(0, Math.max(0, room - 3))}...`;
  const text = `${head}${said}${tail}`.slice(0, width);
  return draft.at === 'save' ? [run(text.padEnd(Math.min(width, text.length + 1)), 'field')] : row(text);
}
