import { killAndStart, type Tortured } from './kill-and-start.js';
import { killCommands } from './kill-commands.js';
import { noPowerCuts, powerCuts } from './power-cuts.js';

/*
 * The long form: npm run torture -- [KILLS] [SEED] [LANES]
 * Kills the program KILLS times (500), in LANES runs at once (2), each with its own seed and its own run; prints what was lost.
 *
 *   npm run torture -- commands [KILLS] [SEED] [LANES]
 * Kills `start`, `import`, `verify` beside entries, and acts KILLS times (1000), LANES at once (4); prints what was lost, and what no longer worked afterwards. SIGINT or SIGTERM
 * ends it after the kills under way, with what was found by then.
 *
 *   npm run torture -- power [CUTS] [SEED]
 * Cuts the power of a disk of its own CUTS times (200); needs root, loop devices and mkfs.ext4, and says so where they are wanting.
 */

if (process.argv[2] === 'commands') {
  let stopped = false;
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.on(signal, () => {
      stopped = true;
    });
  const [count = 1000, first = 1, lanes = 4] = process.argv.slice(3).map(Number);
  const told = await killCommands({ kills: count, seed: first, lanes, enough: () => stopped });
  process.stdout.write(
    `kills ${told.kills}, of which before the end ${told.hit}; lost ${told.lost.length}, stuck ${told.stuck.length}\n`,
  );
  for (const [name, times] of Object.entries(told.byCommand)) process.stdout.write(`  ${name} ${times}\n`);
  for (const one of [...told.lost, ...told.stuck].slice(0, 20)) process.stdout.write(`  ${one}\n`);
  process.exit(told.lost.length + told.stuck.length > 0 ? 1 : 0);
}

if (process.argv[2] === 'power') {
  const why = noPowerCuts();
  if (why !== null) {
    process.stdout.write(`left out: ${why}\n`);
    process.exit(0);
  }
  const [cuts = 200, first = 1] = process.argv.slice(3).map(Number);
  const told = await powerCuts({ cuts, seed: first });
  process.stdout.write(
    `cuts ${told.cuts}; entries said to be on disk ${told.shown}, beyond those ${told.more}, torn tails ${told.tornTails}; lost ${told.lost.length}, stuck ${told.stuck.length}\n`,
  );
  for (const one of [...told.lost, ...told.stuck].slice(0, 20)) process.stdout.write(`  ${one}\n`);
  process.exit(told.lost.length + told.stuck.length > 0 ? 1 : 0);
}

const [kills = 500, seed = 1, lanes = 2] = process.argv.slice(2).map(Number);
const share = Math.ceil(kills / lanes);
const began = performance.now();
const told: readonly Tortured[] = await Promise.all(
  Array.from({ length: lanes }, (_, lane) =>
    killAndStart({ kills: Math.min(share, kills - lane * share), seed: seed + lane, lifeMs: 1200 }),
  ),
);
const sum = (of: (one: Tortured) => number): number => told.reduce((total, one) => total + of(one), 0);
const rows: readonly (readonly [string, number])[] = [
  ['kills', sum((t) => t.kills)],
  ['… while starting', sum((t) => t.whileStarting)],
  ['… while a key was dealt with', sum((t) => t.whileKeying)],
  ['entries in the logs', sum((t) => t.records)],
  ['… checks by the sensor', sum((t) => t.sensor)],
  ['keyed entries the screen said were taken', sum((t) => t.shown)],
  ['lost', sum((t) => t.lost.length)],
  ['there twice', sum((t) => t.twice.length)],
  ['out of order', sum((t) => t.outOfOrder.length)],
  ['half-keyed checks brought back', sum((t) => t.draftsBack)],
  ['torn tails repaired', sum((t) => t.repairedTails)],
  ['states held against a fold from scratch', sum((t) => t.stateChecked)],
  ['… that differed', sum((t) => t.statesWrong.length)],
];
for (const [what, count] of rows) process.stdout.write(`${what.padEnd(44)}${String(count).padStart(8)}\n`);
process.stdout.write(`seeds ${seed} to ${seed + lanes - 1}, ${Math.round((performance.now() - began) / 1000)} s\n`);
const wrong = told.flatMap((t) => [...t.lost, ...t.twice, ...t.outOfOrder, ...t.statesWrong]);
for (const one of wrong.slice(0, 20)) process.stdout.write(`  ${one}\n`);
process.exit(wrong.length > 0 || sum((t) => t.kills) < kills ? 1 : 0);
