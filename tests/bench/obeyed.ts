import { late, sevenInTen } from '../second-press/obeying.js';
import {
  type CrewFactory,
  playRun,
  SCENARIO_NAMES,
  type Scenario,
  type Score,
  scenario,
} from '../second-press/press.js';
import { RIVALS } from '../second-press/rivals/index.js';
import { listening, type Said } from '../second-press/said.js';

/** Constants are searched on even seeds; what is reported is met on odd ones. */
const seedOf = (run: number): number => 2 * run + 1;
const SIZES: readonly number[] = [5, 8, 12];

type Way = {
  readonly name: string;
  readonly over?: Partial<Scenario>;
  readonly as?: (crew: CrewFactory) => CrewFactory;
  /** False: the sample that the board asks for after a correction of what was out is not pulled. */
  readonly followUp?: boolean;
};

/** Ways of obeying, and presses otherwise than the job believes. */
const WAYS: readonly Way[] = [
  { name: 'no sample but at roll changes', followUp: false },
  { name: 'late (500 to 1 200 m)', as: (crew) => late(crew) },
  { name: 'seven times in ten', as: (crew) => sevenInTen(crew) },
  { name: 'knobs not measured', over: { gainEven: 0.5 } },
  { name: 'scatter told 3 x', over: { believedFactor: 3 } },
  { name: 'scatter told half', over: { believedFactor: 0.5 } },
  { name: 'offsets at OK', over: { standingMm: 0.06 } },
  { name: 'three stations a check', over: { partial: true } },
];

type Row = {
  readonly name: string;
  readonly cells: Readonly<Record<string, readonly Score[]>>;
  readonly said: readonly Said[];
};

const rival = (name: RegExp): CrewFactory => {
  const found = RIVALS.find((r) => name.test(r.name));
  if (found === undefined) throw new Error(`no rival ${name}`);
  return found.crew;
};

/** Metres wasted by who obeys the board, against an experienced hand and an oracle, on the second press; paired by seed. */
export const benchObeyed = (runs = 100): readonly string[] => {
  const rows = SCENARIO_NAMES.flatMap((name) =>
    SIZES.map((n) => played(`${name} ${n}`, { name }, scenario(name), n, runs)),
  );
  const ways = WAYS.map((way) => played(`shop 8, ${way.name}`, way, scenario('shop', way.over ?? {}), 8, runs));
  return [
    `OBEYED, second press, odd seeds, ${runs} runs a row of 16 finished rolls: % of metres out (turns, turns for the worse)`,
    'row                           never  3-sigma  half tol.  hand              board            oracle  avoidable  released out  held good  nothing said  OUT, all inside',
    ...[...rows, ...ways].map(told),
    `mean of the avoidable parts, board / hand, where something moves: ${meanAvoidable(rows).toFixed(2)} (asked: at most 0.75; aim 0.6)`,
  ];
};

const played = (name: string, way: Way, press: Scenario, stations: number, runs: number): Row => {
  const as = way.as ?? ((crew: CrewFactory): CrewFactory => crew);
  const board = listening({ followUp: way.followUp ?? true });
  const said: Said[] = [];
  const crews: Readonly<Record<string, CrewFactory>> = {
    never: rival(/never/),
    sigma: rival(/sigma/),
    half: rival(/half/),
    hand: as(rival(/exper/)),
    board: as(board.crew),
    oracle: rival(/oracle/),
  };
  const cells = Object.fromEntries(
    Object.entries(crews).map(([who, crew]) => [
      who,
      Array.from({ length: runs }, (_, run) => {
        const score = playRun(press, stations, seedOf(run), crew);
        if (who === 'board') said.push(board.said(score));
        return { ...score, trace: [], outSpans: [] };
      }),
    ]),
  );
  return { name, cells, said };
};

const sum = (scores: readonly Score[], of: (s: Score) => number): number => scores.reduce((a, s) => a + of(s), 0);
const percent = (row: Row, who: string, of: (s: Score) => number = (s) => s.metresOut): number => {
  const scores = row.cells[who] ?? [];
  return (
    (100 * sum(scores, of)) /
    Math.max(
      1,
      sum(scores, (s) => s.metres),
    )
  );
};
const each = (row: Row, who: string, of: (s: Score) => number): number => {
  const scores = row.cells[who] ?? [];
  return sum(scores, of) / Math.max(1, scores.length);
};

const avoidable = (row: Row): number | null => {
  const least = percent(row, 'oracle');
  const theirs = percent(row, 'hand') - least;
  return theirs < 0.5 ? null : (percent(row, 'board') - least) / theirs;
};

const meanAvoidable = (rows: readonly Row[]): number => {
  const known = rows.flatMap((row) => avoidable(row) ?? []);
  return known.reduce((a, b) => a + b, 0) / Math.max(1, known.length);
};

const share = (row: Row, part: (s: Said) => number, whole: (s: Said) => number): string => {
  const all = row.said.reduce((a, s) => a + whole(s), 0);
  return `${row.said.reduce((a, s) => a + part(s), 0)} of ${all}`;
};

const told = (row: Row): string => {
  const who = (name: string): string =>
    `${percent(row, name).toFixed(1).padStart(5)} (${each(row, name, (s) => s.touches).toFixed(1)}, ${each(row, name, (s) => s.worseTurns).toFixed(1)})`.padEnd(
      18,
    );
  const plain = (name: string): string => percent(row, name).toFixed(1).padStart(6);
  const part = avoidable(row);
  return `${row.name.padEnd(28)} ${plain('never')}  ${plain('sigma')}  ${plain('half')}  ${who('hand')} ${who('board')} ${plain('oracle')}  ${part === null ? '    -' : part.toFixed(2).padStart(5)}      ${percent(row, 'board', (s) => s.releasedOut).toFixed(1)} / ${percent(row, 'hand', (s) => s.releasedOut).toFixed(1)}     ${percent(row, 'board', (s) => s.heldGood).toFixed(1)} / ${percent(row, 'hand', (s) => s.heldGood).toFixed(1)}     ${share(
    row,
    (s) => s.silent,
    (s) => s.clearlyOut,
  )}     ${share(
    row,
    (s) => s.criedOut,
    (s) => s.allInside,
  )}`;
};
