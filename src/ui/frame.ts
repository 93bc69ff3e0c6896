import type { Axis } from '../core/axis.js';
import { placesOf } from '../core/views/at-counter.js';
import type { BoardView } from '../core/views/board-view.js';
import type { ChartView } from '../core/views/chart-view.js';
import { loupeInShort } from '../core/views/loupe-words.js';
import { registerUnitName, signedNumber } from '../core/views/number-words.js';
import { edgeOf } from './check/grid-view.js';
import { typedOn } from './check/to-check.js';
import { chartLegend, drawChart } from './draw/chart.js';
import { drawEvents } from './draw/events.js';
import { drawFar } from './draw/far.js';
import { drawForm } from './draw/form.js';
import { drawGrid } from './draw/grid.js';
import { drawHeader } from './draw/header.js';
import { drawEvent, drawMiddle } from './draw/instruction.js';
import { kept } from './draw/kept.js';
import { rollRow } from './draw/rolls.js';
import { cutRow, fitRows, type Row, type Run, row, run, spread, widthOf, wrapWords } from './draw/row.js';
import { stateWord } from './draw/state-words.js';
import { drawStrip } from './draw/strip.js';
import { labelRow, pairWords, plateRow, readingRow, stateRow } from './draw/table.js';
import { allInColumns, inColumns, outOfColumns } from './in-columns.js';
import { keyLine } from './keymap.js';
import { type Layout, LEAST, layout } from './layout.js';
import type { Screen } from './screen.js';
import { actContext, selectedStation } from './selected-station.js';
import { glyphs, type Look } from './theme.js';

/** Everything a frame is drawn from. */
export type FrameModel = {
  readonly view: BoardView;
  readonly screen: Screen;
  readonly chart: (station: string, axis: Axis, window: Screen['window']) => ChartView;
  readonly columns: number;
  readonly rows: number;
  readonly look: Look;
  /** Time of day, as the corner shows it. */
  readonly clock: string;
  readonly nowMs: number;
  readonly operator: string;
  readonly readOnly: string | null;
};

/** The whole screen as rows, exactly as many and as wide as the terminal. Pure: the same model gives the same text. */
export function drawFrame(given: FrameModel): readonly Row[] {
  const model: FrameModel = {
    ...given,
    view: allInColumns(given.view),
    screen: allInColumns(given.screen),
    operator: inColumns(given.operator),
    chart: (station, ...where) => allInColumns(given.chart(outOfColumns(station), ...where)),
  };
  const plan = layout(model.columns, model.rows);
  if (plan === null) return tooSmall(model);
  const { mode } = model.screen;
  if (mode.kind === 'far')
    return [
      ...header(model, plan),
      ...drawFar(model.view, model.columns, model.rows - 3, model.look),
      footRow(model, plan),
    ];
  if (mode.kind === 'page') return page(model, plan, mode);
  const head = header(model, plan);
  const body = mode.kind === 'grid' ? gridBody(model, plan, mode.check) : boardBody(model, plan);
  const rows = fitRows(body, plan.width, plan.rows - head.length);
  return fitRows(
    [...head, ...(plan.side === 0 ? rows : beside(rows, sideRows(model, plan), plan, model.look))],
    plan.columns,
    plan.rows,
  );
}

/** Rows of text a page shows at once. */
export const pageRows = (rows: number): number => Math.max(1, rows - 4);

function header(model: FrameModel, plan: Layout): readonly Row[] {
  const trouble = model.readOnly === null ? null : `READ ONLY: ${model.readOnly}`;
  return fitRows(drawHeader(model.view, plan.columns, model.clock, trouble, model.look), plan.columns, 2);
}

/** Strips and numbers: the part that changes with the view and the station selected, not with the other keys. */
const keptTop = kept(
  (
    view: BoardView,
    selected: string,
    width: number,
    gutter: number,
    strip: number,
    across: number,
    look: Look,
  ): readonly Row[] => {
    const box = { width, gutter };
    return [
      labelRow(view, box, selected, look),
      ...drawStrip(view, 'along', { ...box, rows: strip }, look),
      ...(across > 0 ? drawStrip(view, 'across', { ...box, rows: across }, look) : []),
      readingRow(view, 'along', box),
      readingRow(view, 'across', box),
      stateRow(view, box),
      plateRow(view, box),
      rollRow(view, width),
    ];
  },
);

const keptMiddle = kept(drawMiddle);

function boardBody(model: FrameModel, plan: Layout): readonly Row[] {
  const { view, screen, look } = model;
  const rule: readonly Row[] = plan.rules ? [row(glyphs(look).rule.repeat(plan.width), 'faint')] : [];
  const top: readonly Row[] = [
    ...keptTop(view, selectedStation(screen, view), plan.width, plan.gutter, plan.strip, plan.across, look),
    ...(plan.pairs > 0 ? [row(pairWords(view, screen.selected.axis)[0] ?? '')] : []),
    ...rule,
  ];
  const middle = plan.instruction + 1;
  const foot = plan.chart + plan.keys + 1 + rule.length;
  if (screen.mode.kind === 'form') {
    // A long list needs the room of the instruction; everything else leaves at least what moved standing.
    const room = middle + foot - 1;
    const box = { width: plan.width, rows: room };
    return [
      ...top,
      drawEvent(view, plan.width),
      ...fitRows(drawForm(screen.mode.form, actContext(screen, model), box, look), plan.width, room),
    ];
  }
  const said: readonly Row[] =
    screen.message === null
      ? []
      : wrapWords(screen.message.text, plan.width - 2).map((line) => [
          run(' '),
          run(line, screen.message?.tone === 'trouble' ? 'act' : 'strong'),
        ]);
  const chart = [...chartRows(model, plan), ...keyRows(model, plan)];
  return [
    ...top,
    ...fitRows(keptMiddle(view, plan.width, middle, look), plan.width, middle),
    ...rule,
    ...withMessage(chart, said),
  ];
}

/** What was just said lies over the chart's title, and over its first rows when it is long; the chart itself stands still. */
const withMessage = (rows: readonly Row[], said: readonly Row[]): readonly Row[] => [
  ...said,
  ...rows.slice(said.length),
];

function chartRows(model: FrameModel, plan: Layout): readonly Row[] {
  const { view, screen } = model;
  const { axis } = screen.selected;
  const rows = chartOf(model, selectedStation(screen, view), axis, plan.width, plan.chart + 1, plan.pairs === 0);
  return fitRows(rows, plan.width, plan.chart + 1);
}

/** The chart with its title: what it shows, and its legend or, where there is no room for both, how the pair stands. */
function chartOf(
  model: FrameModel,
  station: string,
  axis: Axis,
  width: number,
  rows: number,
  pairs = false,
): readonly Row[] {
  const { view, screen, look } = model;
  const here = view.stations.find((one) => one.id === station);
  const trap =
    !pairs || here === undefined ? '' : (pairWords(view, axis).find((one) => one.includes(here.label)) ?? '');
  const bias = here?.axes[axis].loupe;
  const loupe = bias === undefined ? '' : loupeInShort(bias, axis, view.units.register);
  const creep = here?.axes[axis].creep_mm_roll;
  const title: Run[] = [
    run(` ${here?.label ?? station}, ${axis}`, 'strong'),
    run(here === undefined ? '' : `: ${stateWord(here.axes[axis].state)}`),
    run(
      creep === undefined
        ? ''
        : `, creeps ${signedNumber(creep, view.units.register)} ${registerUnitName(view.units.register)} a roll`,
    ),
    run(loupe === '' ? '' : `, ${loupe}`),
  ];
  const rest = trap !== '' && width < 100 ? trap : chartLegend(look, width - widthOf(title) - 2);
  const units = { ...placesOf(view), register: view.units.register };
  const chart =
    rows < 2
      ? []
      : drawChart(
          model.chart(station, axis, screen.window),
          { width, rows: rows - 1, gutter: 8 },
          units,
          screen.by,
          look,
        );
  return [spread(title, [run(rest)], width), ...chart];
}

const keyRows = (model: FrameModel, plan: Layout): readonly Row[] =>
  fitRows(
    keyLine(plan.width, plan.keys, model.view.phase).map(
      (line): Row => [run(' '), ...line.flatMap((one) => [run(one.key, 'key'), run(` ${one.words}  `)])],
    ),
    plan.width,
    plan.keys,
  );

function footRow(model: FrameModel, plan: Layout): Row {
  return cutRow(
    [
      run(' any key: the board   '),
      run('p', 'key'),
      run(' sample pulled  '),
      run('c', 'key'),
      run(' check  '),
      run('?', 'key'),
      run(' help'),
      run(model.screen.muted ? '   bell off' : ''),
    ],
    plan.columns,
  );
}

function gridBody(model: FrameModel, plan: Layout, check: string): readonly Row[] {
  const { view, screen, look } = model;
  const draft = screen.drafts[check];
  if (draft === undefined) return [];
  const axis: Axis = draft.at !== 'save' && draft.at.cell === 'across' ? 'across' : 'along';
  const box = { width: plan.width, gutter: plan.gutter };
  const least = view.stations.length + (draft.edges?.length ?? 0) + 5;
  const room = plan.rows - 2;
  const strip = Math.max(5, Math.min(plan.rows < 30 ? 7 : 11, oddBelow(room - least - 2)));
  const top: readonly Row[] = [
    labelRow(view, box, draft.at === 'save' ? '' : edgeOf(draft.at.station, draft).station, look),
    ...drawStrip(view, axis, { ...box, rows: strip }, look, typedOn(draft, axis, view)),
    drawEvent(view, plan.width),
  ];
  const rows = room - top.length;
  const grid = drawGrid(draft, view, { width: plan.width, rows }, look);
  const spare = rows - grid.length;
  if (spare < 8 || draft.at === 'save') return [...top, ...grid];
  const chart = chartOf(model, edgeOf(draft.at.station, draft).station, axis, plan.width, spare - 1);
  return [...top, ...grid, [], ...chart];
}

const oddBelow = (n: number): number => (n % 2 === 0 ? n - 1 : n);

function page(model: FrameModel, plan: Layout, mode: Extract<Screen['mode'], { kind: 'page' }>): readonly Row[] {
  const rows = pageRows(plan.rows);
  const last = Math.min(mode.lines.length, mode.top + rows);
  const foot = `${mode.lines.length > rows ? `lines ${mode.top + 1} to ${last} of ${mode.lines.length}; arrows, space, page up and down;` : ''} any other key: back`;
  return [
    ...header(model, plan),
    ...fitRows(
      mode.lines
        .slice(mode.top, mode.top + rows)
        .map((line) => row(line.startsWith(' ') ? line : ` ${line}`, /^[A-Z#]{2}/.test(line) ? 'strong' : 'plain')),
      plan.columns,
      rows,
    ),
    // What asks for a hand is not hidden by a page that is being read.
    asksForAHand(model.view) ? cutRow(drawEvent(model.view, plan.columns), plan.columns) : [],
    cutRow([run(` ${foot.trim()}`, 'strong')], plan.columns),
  ];
}

const asksForAHand = (view: BoardView): boolean => view.events.some((one) => one.open && one.severity !== 'note');

const sideRows = (model: FrameModel, plan: Layout): readonly Row[] =>
  fitRows(drawEvents(model.view, plan.side, plan.rows - 2), plan.side, plan.rows - 2);

function beside(left: readonly Row[], right: readonly Row[], plan: Layout, look: Look): readonly Row[] {
  const bar = look.ascii ? ' | ' : ' │ ';
  return left.map((line, i) => [
    ...line,
    run(' '.repeat(Math.max(0, plan.width - widthOf(line)))),
    run(bar),
    ...(right[i] ?? []),
  ]);
}

/** Below the least size there is no board, but never no instruction; and what is being keyed is never out of sight. */
function tooSmall(model: FrameModel): readonly Row[] {
  const it = model.view.instruction;
  const { mode, drafts } = model.screen;
  const width = Math.max(1, model.columns);
  const rows = Math.max(1, model.rows);
  const size = `This terminal is ${model.columns} by ${model.rows}; the board needs ${LEAST.columns} by ${LEAST.rows}. Until then no key acts but q, which leaves.`;
  const head = wrapWords(size, width).map((one) => row(one));
  const box = { width, rows: Math.max(1, rows - head.length) };
  if (mode.kind === 'form')
    return fitRows([...head, ...drawForm(mode.form, actContext(model.screen, model), box, model.look)], width, rows);
  const draft = mode.kind === 'grid' ? drafts[mode.check] : undefined;
  if (draft !== undefined) return fitRows([...head, ...drawGrid(draft, model.view, box, model.look)], width, rows);
  // The list first, each line whole; then what the hand does, as far as there is room.
  const list = model.view.todo.length === 0 ? [it.sentence] : model.view.todo.map((one) => `${one.head}${one.tail}`);
  const blocks = [...list, ...it.hand, it.caution]
    .filter((one) => one !== '')
    .map((one) => wrapWords(one, width).map((line) => row(line, 'strong')));
  const kept: Row[] = [];
  for (const block of blocks) if (head.length + kept.length + block.length <= rows) kept.push(...block);
  return fitRows([...head, ...kept], width, rows);
}
