/** Prints how the rivals fare. `npx tsx tests/second-press/table.ts --runs 40 [--scenario slips] [--stations 8]` */
import { playRun, SCENARIO_NAMES, type Score, scenario } from './press.js';
import { RIVALS } from './rivals/index.js';

const option = (name: string): string | undefined => {
  const i = process.argv.indexOf(`--${name}`);
  return i < 0 ? undefined : process.argv[i + 1];
};

const runs = Number(option('runs') ?? 20);
const firstSeed = Number(option('seed') ?? 1);
const sizes = option('stations') ? [Number(option('stations'))] : [5, 8, 12];
const names = SCENARIO_NAMES.filter((n) => option('scenario') === undefined || option('scenario') === n);
const mean = (scores: readonly Score[], of: (s: Score) => number): number =>
  scores.reduce((sum, s) => sum + of(s), 0) / Math.max(1, scores.length);

const columns: readonly (readonly [string, (s: Score) => number])[] = [
  ['out %', (s) => (100 * s.metresOut) / s.metres],
  ['turns', (s) => s.touches],
  ['worse', (s) => s.worseTurns],
  ['readings', (s) => s.readings],
  ['released out %', (s) => (100 * s.releasedOut) / s.metres],
  ['held good %', (s) => (100 * s.heldGood) / s.metres],
];

const crewNames = RIVALS.map((r) => playRun(scenario('nothing', { rolls: 0 }), 5, 1, r)).length;
const heads = ['never', 'three-sigma', 'half-tolerance', 'turn-everything', 'experienced', 'oracle'].slice(
  0,
  crewNames,
);
const started = performance.now();
let played = 0;
for (const [title, of] of columns) {
  console.log(`\n${title}`);
  console.log(`${'scenario'.padEnd(12)}${'n'.padStart(3)}${heads.map((h) => h.padStart(17)).join('')}`);
  for (const name of names)
    for (const n of [...sizes, 0].filter((x) => x > 0 || sizes.length > 1)) {
      const over = n === 0 ? sizes : [n];
      const cells = RIVALS.map((rival) => {
        const scores = over.flatMap((m) =>
          Array.from({ length: runs }, (_, i) => playRun(scenario(name), m, firstSeed + i, rival)),
        );
        played += scores.length;
        return mean(scores, of).toFixed(1).padStart(17);
      });
      console.log(`${name.padEnd(12)}${(n === 0 ? 'all' : String(n)).padStart(3)}${cells.join('')}`);
    }
}
console.log(`\n${played} runs, ${((performance.now() - started) / played).toFixed(1)} ms each`);
