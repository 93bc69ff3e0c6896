/** Prints how the rivals fare. `npx tsx tests/second-press/table.ts --runs 40 [--scenario slips] [--stations 8] [--seed 1]` */
import { playRun, SCENARIO_NAMES, type ScenarioName, type Score, scenario } from './press.js';
import { RIVALS } from './rivals/index.js';

const option = (name: string): string | undefined => {
  const i = process.argv.indexOf(`--${name}`);
  return i < 0 ? undefined : process.argv[i + 1];
};

const runs = Number(option('runs') ?? 20);
const firstSeed = Number(option('seed') ?? 1);
const sizes = option('stations') ? [Number(option('stations'))] : [5, 8, 12];
const names = SCENARIO_NAMES.filter((n) => option('scenario') === undefined || option('scenario') === n);

const columns: readonly (readonly [string, (s: Score) => number])[] = [
  ['metres out, %', (s) => (100 * s.metresOut) / s.metres],
  ['released out, %', (s) => (100 * s.releasedOut) / s.metres],
  ['held good, %', (s) => (100 * s.heldGood) / s.metres],
  ['turns', (s) => s.touches],
  ['turns for the worse', (s) => s.worseTurns],
  ['readings', (s) => s.readings],
  ['busy, % of the time', (s) => (100 * s.busyMinutes) / s.minutes],
];

const mean = (scores: readonly Score[], of: (s: Score) => number): number =>
  scores.reduce((sum, s) => sum + of(s), 0) / Math.max(1, scores.length);

/** Scores by scenario, stations and rival; every cell meets the same presses. */
const playAll = (name: ScenarioName): Map<number, Score[][]> =>
  new Map(
    sizes.map((n) => [
      n,
      RIVALS.map(({ crew }) =>
        Array.from({ length: runs }, (_, i) => {
          // The trace of hundreds of runs is not wanted here.
          return { ...playRun(scenario(name), n, firstSeed + i, crew), trace: [], outSpans: [] };
        }),
      ),
    ]),
  );

const started = performance.now();
const played = new Map(names.map((name) => [name, playAll(name)]));
const ms = (performance.now() - started) / (names.length * sizes.length * RIVALS.length * runs);
for (const [title, of] of columns) {
  console.log(`\n${title.padEnd(20)}    ${RIVALS.map((r) => r.name.padStart(16)).join('')}`);
  for (const [name, bySize] of played) {
    const line = (label: string, cells: readonly Score[][]): void =>
      console.log(
        `${name.padEnd(20)}${label.padStart(4)}${cells.map((c) => mean(c, of).toFixed(1).padStart(16)).join('')}`,
      );
    for (const [n, cells] of bySize) line(String(n), cells);
    if (bySize.size > 1)
      line(
        'all',
        RIVALS.map((_, i) => [...bySize.values()].flatMap((cells) => cells[i] ?? [])),
      );
  }
}
console.log(`\n${ms.toFixed(1)} ms a run`);
