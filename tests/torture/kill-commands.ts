import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { findRun } from '../../src/commands/find-run.js';
import { CLI, holdreg, JOB, newData, PRESS, ROOT, runningPress } from '../end-to-end/program.js';
import { type Seeded, seeded } from '../support/seeded.js';
import { recordsIn } from './ledger.js';

/** What kills at random moments of every command that writes came to. */
export type KilledCommands = {
  readonly kills: number;
  /** Kills that hit the command before it was through. */
  readonly hit: number;
  readonly byCommand: Readonly<Record<string, number>>;
  /** Entries that a command said were taken and that are not in the log. */
  readonly lost: readonly string[];
  /** Commands that no longer worked afterwards, and imports of which a part stayed. */
  readonly stuck: readonly string[];
};

/** Kills `start`, `import` (new runs, and into a run that is there), `verify` beside entries, and acts, each with -9 at a random moment; then asks whether all still works. */
export const killCommands = async ({ kills, seed }: { kills: number; seed: number }): Promise<KilledCommands> => {
  const random = seeded(seed);
  const told = { hit: 0, byCommand: {} as Record<string, number>, lost: [] as string[], stuck: [] as string[] };
  const ways = [killStart, killImportNew, killImportInto, killVerify, killAct];
  const shared = { running: runningPress(), notes: 0 };
  for (let kill = 0; kill < kills; kill += 1) {
    const way = ways[kill % ways.length] ?? killStart;
    told.byCommand[way.name] = (told.byCommand[way.name] ?? 0) + 1;
    await way(random, told, shared);
  }
  return { kills, ...told };
};

type Told = { hit: number; readonly lost: string[]; readonly stuck: string[] };
type Shared = { readonly running: string; notes: number };

const killStart = async (random: Seeded, told: Told): Promise<void> => {
  const data = newData();
  // Half of them beside a run that is in progress.
  if (random.uniform() < 0.5) await killedAfter(data, ['start', PRESS, JOB], Infinity);
  const before = findRun(data, undefined);
  if ((await killedAfter(data, ['start', PRESS, JOB, '--run', 'late'], moment(random))) === null) told.hit += 1;
  const open = findRun(data, undefined);
  if (before.ok && !open.ok) told.stuck.push('start: the run in progress is not found any more');
  if (!open.ok) {
    const again = holdreg(data, 'start', PRESS, JOB, '--run', 'late');
    if (again.code !== 0) told.stuck.push(`start again: ${again.err}`);
  }
  const after = holdreg(data, 'stop', '--counter', '10');
  if (after.code !== 0) told.stuck.push(`stop after a killed start: ${after.err}`);
};

const ROWS = readFileSync(join(ROOT, 'demo-data/run.csv'), 'utf8').trim().split(/\r?\n/);
const twoRuns = (): string => {
  const [head = '', ...rows] = ROWS;
  const named = (run: string): readonly string[] => rows.map((row) => row.replace(/^[^,]*/, run));
  return `${[head, ...named('a'), ...named('b')].join('\n')}\n`;
};

const killImportNew = async (random: Seeded, told: Told): Promise<void> => {
  const data = newData();
  const file = join(data, 'two.csv');
  writeFileSync(file, twoRuns());
  const args = ['import', file, '--press', PRESS, '--job', JOB];
  const code = await killedAfter(data, args, moment(random, 900));
  if (code === null) told.hit += 1;
  const sizes = ['a', 'b'].map((run) => recordsAt(data, run));
  if (sizes.some((size) => size > 0 && size < WHOLE()))
    told.stuck.push(`import: a part stayed (${sizes.join(' and ')})`);
  if (sizes.every((size) => size === WHOLE())) return;
  const again = holdreg(data, ...args);
  if (again.code !== 0) told.stuck.push(`import again: ${again.err}`);
};

/** Records of one of the two runs, when all of it is there. */
let whole: number | null = null;
const WHOLE = (): number => {
  if (whole !== null) return whole;
  const data = newData();
  const file = join(data, 'two.csv');
  writeFileSync(file, twoRuns());
  holdreg(data, 'import', file, '--press', PRESS, '--job', JOB);
  whole = recordsAt(data, 'a');
  return whole;
};

const recordsAt = (data: string, run: string): number => {
  const folder = join(data, 'runs', run);
  return existsSync(folder) ? recordsIn(folder).length : 0;
};

const killImportInto = async (random: Seeded, told: Told): Promise<void> => {
  const data = runningPress();
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const before = recordsIn(folder).length;
  const file = join(data, 'more.csv');
  const rows = Array.from({ length: 400 }, (_, i) => `,n${i},,6000,,reading,2,0.0${i % 9},`);
  writeFileSync(file, `run,check,time,web_m,roll,kind,station,along_mm,across_mm\n${rows.join('\n')}\n`);
  const code = await killedAfter(data, ['import', file, '--run', run], moment(random, 700));
  if (code === null) told.hit += 1;
  const after = recordsIn(folder).length;
  if (after !== before && after !== before + rows.length)
    told.stuck.push(`import into a run: ${after - before} stayed`);
  if (after === before) {
    const again = holdreg(data, 'import', file, '--run', run);
    if (again.code !== 0) told.stuck.push(`import into a run again: ${again.err}`);
  }
};

/** A torn tail, and verify beside an act that takes its entry at the same time; whichever comes first, the entry stays. */
const killVerify = async (random: Seeded, told: Told, shared: Shared): Promise<void> => {
  const data = shared.running;
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const log =
    readdirSync(folder)
      .filter((name) => /^log-\d+\.ndjson$/.test(name))
      .sort()
      .at(-1) ?? '';
  writeFileSync(join(folder, log), '{"crc":"12', { flag: 'a' });
  const [verified, taken] = await Promise.all([
    killedAfter(data, ['verify'], moment(random)),
    noteBeside(data, shared, random.uniform() * 60, Infinity),
  ]);
  if (verified === null) told.hit += 1;
  holdReadable(folder, told);
  if (taken !== null && !notesIn(folder).includes(taken)) told.lost.push(taken);
};

const killAct = async (random: Seeded, told: Told, shared: Shared): Promise<void> => {
  const data = shared.running;
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const taken = await noteBeside(data, shared, 0, moment(random));
  if (taken === null) told.hit += 1;
  holdReadable(folder, told);
  if (taken !== null && !notesIn(folder).includes(taken)) told.lost.push(taken);
};

/** Checks carry a note of their own, so that each can be told from the others; null = not taken. */
const noteBeside = async (data: string, shared: Shared, after: number, killAt: number): Promise<string | null> => {
  shared.notes += 1;
  const text = `k${shared.notes}`;
  await wait(after);
  const args = ['check', '2:1A:0', '--counter', String(6000 + shared.notes), '--note', text];
  return (await killedAfter(data, args, killAt)) === 0 ? text : null;
};

const notesIn = (folder: string): readonly string[] =>
  recordsIn(folder).flatMap((r) => (r.type === 'check' && r.note !== undefined ? [r.note] : []));

const holdReadable = (folder: string, told: Told): void => {
  try {
    recordsIn(folder);
  } catch (error) {
    told.stuck.push(`the log cannot be read any more: ${String(error)}`);
  }
};

const moment = (random: Seeded, within = 700): number => 80 + random.uniform() * within;

/** Its exit code, or null when it was killed. */
const killedAfter = (data: string, args: readonly string[], ms: number): Promise<number | null> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, [CLI, ...args], {
      stdio: 'ignore',
      env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC' },
    });
    const timer = Number.isFinite(ms) ? setTimeout(() => child.kill('SIGKILL'), ms) : null;
    child.on('exit', (code) => {
      if (timer !== null) clearTimeout(timer);
      resolve(code);
    });
  });
