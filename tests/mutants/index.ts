import { fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { relative } from 'node:path';
import { parseArgs } from 'node:util';
import { sourcesUnder } from '../support/import-graph.js';
import { seeded } from '../support/seeded.js';
import { type Mutant, mutantsOf, mutated } from './mutate.js';
import type { Answered, Asked } from './runner.js';
import { testsFor } from './tests-for.js';

/**
 * Makes one mutation at a time of the sources and asks the tests that import the file. A mutant that fails a test, or makes one run five
 * times as long as before, is killed; one that passes them all survives. `--sample` says how many, `--seed` which, `--of` where
 * (`src/core/hold` or one file), `--tests` how many of the nearest tests are asked; slow ones (above `--slow` ms) are not.
 */
const { values } = parseArgs({
  options: {
    sample: { type: 'string', default: '60' },
    seed: { type: 'string', default: '1' },
    of: { type: 'string', multiple: true, default: ['src/core', 'src/store'] },
    tests: { type: 'string', default: '8' },
    slow: { type: 'string', default: '4000' },
  },
});
const root = new URL('../..', import.meta.url).pathname.replace(/\/$/, '');
const nearest = testsFor(root);

type One = { readonly file: string; readonly text: string; readonly mutant: Mutant };

const everyOne: readonly One[] = sourcesUnder(`${root}/src`)
  .filter((file) => !file.endsWith('.d.ts') && values.of.some((part) => relative(root, file).startsWith(part)))
  .sort()
  .flatMap((file) => {
    const text = readFileSync(file, 'utf8');
    return mutantsOf(file, text).map((mutant) => ({ file, text, mutant }));
  });
const { uniform } = seeded(Number(values.seed));
const sample = everyOne
  .map((one) => ({ one, lot: uniform() }))
  .sort((a, b) => a.lot - b.lot)
  .slice(0, Number(values.sample))
  .map(({ one }) => one)
  .sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.mutant.at - b.mutant.at));

type Runner = { readonly ask: (asked: Asked, withinMs: number) => Promise<Answered | null>; readonly end: () => void };

/** A process of its own, and of its own group, so that all of it can be ended. */
const startRunner = async (): Promise<Runner> => {
  const child = fork(new URL('./runner.ts', import.meta.url), [root], {
    execArgv: ['--import', 'tsx'],
    detached: true,
    stdio: 'ignore',
  });
  const end = (): void => {
    if (child.pid !== undefined && child.exitCode === null) process.kill(-child.pid, 'SIGKILL');
  };
  await new Promise<void>((resolve) => child.once('message', () => resolve()));
  const ask: Runner['ask'] = (asked, withinMs) =>
    new Promise((resolve) => {
      const timer = setTimeout(() => resolve(null), withinMs);
      child.once('message', (answer) => {
        clearTimeout(timer);
        resolve(answer as Answered);
      });
      child.send(asked);
    });
  return { ask, end };
};

const usual = new Map<string, number>();
const rooms = new Map<string, { made: number; killed: number; unasked: number }>();
const roomOf = (file: string): string => {
  const [, room = '', part = ''] = relative(root, file).split('/');
  return room === 'core' && !part.endsWith('.ts') ? `core/${part}` : room;
};
let runner = await startRunner();
process.on('exit', () => runner.end());
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => process.exit(1));

const FIRST_MS = 25_000;
/** The nearest tests, each known to pass and to be quick on the sources as they are. */
const askable = async (file: string): Promise<readonly string[]> => {
  const candidates = nearest(file).slice(0, 2 * Number(values.tests));
  for (const test of candidates.filter((one) => !usual.has(one))) {
    const answer = await runner.ask({ file: null, text: '', tests: [test] }, FIRST_MS);
    if (answer === null) {
      runner.end();
      runner = await startRunner();
    }
    const own = answer?.times[0];
    usual.set(test, own?.ok === true && answer?.failed === null ? own.ms : Number.POSITIVE_INFINITY);
  }
  const quick = candidates.filter((test) => (usual.get(test) ?? Number.POSITIVE_INFINITY) <= Number(values.slow));
  return quick.slice(0, Number(values.tests));
};

console.log(`${sample.length} of ${everyOne.length} mutants, seed ${values.seed}`);
const survivors: string[] = [];
for (const { file, text, mutant } of sample) {
  const tests = await askable(file);
  const room = rooms.get(roomOf(file)) ?? { made: 0, killed: 0, unasked: 0 };
  rooms.set(roomOf(file), room);
  room.made += 1;
  const line = text.slice(0, mutant.at).split('\n').length;
  const name = `${relative(root, file)}:${line}  ${mutant.change}`;
  if (tests.length === 0) {
    room.unasked += 1;
    survivors.push(`${name}  (no quick test imports it)`);
    continue;
  }
  const allowed = 30_000 + 5 * tests.reduce((sum, test) => sum + (usual.get(test) ?? 0), 0);
  const answer = await runner.ask({ file, text: mutated(text, mutant), tests }, allowed);
  if (answer === null) {
    runner.end();
    runner = await startRunner();
  }
  const killed = answer === null || answer.failed !== null;
  if (killed) room.killed += 1;
  else survivors.push(name);
  console.log(
    `${killed ? 'killed  ' : 'SURVIVES'} ${name}${answer === null ? '  (by time)' : answer.failed === null ? '' : `  by ${relative(root, answer.failed)}`}`,
  );
}
runner.end();

console.log('\n| room | mutants | killed | share |\n| --- | --- | --- | --- |');
const share = (killed: number, made: number): string => (made === 0 ? '–' : `${Math.round((100 * killed) / made)} %`);
for (const [room, { made, killed }] of [...rooms].sort())
  console.log(`| ${room} | ${made} | ${killed} | ${share(killed, made)} |`);
const sum = [...rooms.values()].reduce((a, b) => ({ made: a.made + b.made, killed: a.killed + b.killed }), {
  made: 0,
  killed: 0,
});
console.log(`| all | ${sum.made} | ${sum.killed} | ${share(sum.killed, sum.made)} |`);
console.log(`\nSurvivors:\n${survivors.map((one) => `- ${one}`).join('\n')}`);
