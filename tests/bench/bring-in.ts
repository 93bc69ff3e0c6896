import { type BringInObeying, boardBringIn } from '../second-press/board-bring-in.js';
import {
  type BringInFactory,
  type BringInScenario,
  type BringInScore,
  bringIn,
  playBringIn,
} from '../second-press/bring-in.js';
import { allAtOnce } from '../second-press/rivals/bring-in-hands.js';

type Row = { readonly name: string; readonly press: Partial<BringInScenario>; readonly told?: BringInObeying };

/** What was fitted was fitted on even seeds; these are the odd ones. */
const ROWS: readonly Row[] = [
  { name: 'scatter 0.01', press: { labelMm: [0.01, 0.01] } },
  { name: 'scatter 0.02', press: { labelMm: [0.02, 0.02] } },
  { name: 'scatter 0.04', press: { labelMm: [0.04, 0.04] } },
  { name: 'scatter 0.01 to 0.04', press: {} },
  { name: 'knobs unmeasured', press: { knobs: 'unmeasured' } },
  { name: 'knobs with play', press: { knobs: 'play' } },
  { name: 'some reversed', press: { reversedShare: 0.15 }, told: { senseGiven: false } },
  {
    name: 'play, some reversed',
    press: { knobs: 'play', reversedShare: 0.15 },
    told: { senseGiven: false },
  },
  {
    name: 'unmeasured, some reversed',
    press: { knobs: 'unmeasured', reversedShare: 0.15 },
    told: { senseGiven: false },
  },
  { name: 'scatter told 3 x', press: {}, told: { believedFactor: 3 } },
  { name: 'scatter told 0.5 x', press: {}, told: { believedFactor: 0.5 } },
  { name: 'scatter 0.04, told 0.5 x', press: { labelMm: [0.04, 0.04] }, told: { believedFactor: 0.5 } },
  { name: 'die fixed both ways', press: { dieFixedAlong: true } },
  { name: 'die free, out by teeth', press: { dieFixedAcross: false } },
  { name: 'reference in the middle', press: { referenceAt: 'middle' } },
  { name: 'helical', press: { helical: 0.27 } },
];

/** Make-ready on the second press: the board obeyed against a hand that turns everything that is off at once. */
export const benchBringIn = (runs = 100, seedOf: (run: number) => number = (run) => 2 * run + 1): readonly string[] => [
  `BRING IN: make-ready on the second press, ${runs} runs a row, the board obeyed / all at once by hand (on the same press with its knobs the right way round)`,
  'press                      n   done  samples      ratio  p90    ratio  stops        metres     ratio  truly in %     turns       read       min',
  ...ROWS.flatMap((row) => [5, 8, 12].map((n) => line(row, n, runs, seedOf))),
];

const line = (row: Row, n: number, runs: number, seedOf: (run: number) => number): string => {
  const play = (press: Partial<BringInScenario>, crew: BringInFactory): readonly BringInScore[] =>
    Array.from({ length: runs }, (_, run) => playBringIn(bringIn(press), n, seedOf(run), crew));
  const board = play(row.press, boardBringIn(row.told));
  // No hand of the rivals finds out that a knob is reversed: it would turn for ever.
  const hand = play({ ...row.press, reversedShare: 0 }, allAtOnce);
  const of = (pick: (s: BringInScore) => number, digits: number): string =>
    `${mean(board.map(pick)).toFixed(digits)} / ${mean(hand.map(pick)).toFixed(digits)}`;
  const ratio = (pick: (s: BringInScore) => number): string =>
    (mean(board.map(pick)) / mean(hand.map(pick))).toFixed(2);
  const [p, q] = [p90(board.map((s) => s.samples)), p90(hand.map((s) => s.samples))];
  return [
    row.name.padEnd(26),
    String(n).padStart(2),
    String(board.filter((s) => s.done).length).padStart(5),
    of((s) => s.samples, 2).padStart(12),
    ratio((s) => s.samples).padStart(6),
    `${p} / ${q}`.padStart(7),
    (p / q).toFixed(2).padStart(5),
    of((s) => s.stops, 2).padStart(12),
    of((s) => s.metres, 0).padStart(10),
    ratio((s) => s.metres).padStart(6),
    of((s) => 100 * s.inShare, 1).padStart(14),
    of((s) => s.turns, 1).padStart(12),
    of((s) => s.readings, 0).padStart(9),
    of((s) => s.minutes, 0).padStart(8),
  ].join(' ');
};

const mean = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0) / xs.length;
const p90 = (xs: readonly number[]): number =>
  xs.toSorted((a, b) => a - b)[Math.ceil(0.9 * xs.length) - 1] ?? Number.NaN;
