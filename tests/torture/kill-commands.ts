import { spawn } from 'node:child_process';
import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { findRun } from '../../src/commands/find-run.js';
import { CLI, JOB, newData, PRESS, ROOT, runningPress } from '../end-to-end/program.js';
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

/**
 * Kills `start`, `import` (new runs, and into a run that is there), `verify` beside entries, checks, all other acts, and `rescue`, each with -9 at a random moment; then asks whether all
 * still works. `lanes` runs at once, each with its own seed and its own folders.
 */
export const killCommands = async ({
  kills,
  seed,
  lanes = 1,
  enough = () => false,
}: {
  kills: number;
  seed: number;
  lanes?: number;
  /** Asked before each kill; true = the rest is left out. */
  enough?: () => boolean;
}): Promise<KilledCommands> => {
  const told = { hit: 0, byCommand: {} as Record<string, number>, lost: [] as string[], stuck: [] as string[] };
  const ways = [killStart, killImportNew, killImportInto, killVerify, killCheck, killOther, killRescue];
  const running = runningPress();
  const whole = await recordsOfOne();
  let kill = 0;
  const lane = async (number: number): Promise<void> => {
    const random = seeded(seed + number);
    const shared = { running, whole, own: copyOf(running), notes: 0 };
    while (kill < kills && !enough()) {
      const way = ways[kill % ways.length] ?? killStart;
      kill += 1;
      told.byCommand[way.name] = (told.byCommand[way.name] ?? 0) + 1;
      await way(random, told, shared);
    }
  };
  await Promise.all(Array.from({ length: lanes }, (_, number) => lane(number)));
  return { kills: kill, ...told };
};

/** A data folder as it stands, so that a running press is made once and not for every kill. */
const copyOf = (data: string): string => {
  const copy = newData();
  cpSync(data, copy, { recursive: true });
  return copy;
};

type Told = { hit: number; readonly lost: string[]; readonly stuck: string[] };
type Shared = {
  /** A data folder with a run in progress, to be copied. */
  readonly running: string;
  /** The same, of this lane. */
  readonly own: string;
  /** Records of one of the two runs of `twoRuns`, when all of it is there. */
  readonly whole: number;
  notes: number;
};

const killStart = async (random: Seeded, told: Told, { running }: Shared): Promise<void> => {
  // Half of them beside a run that is in progress.
  const data = random.uniform() < 0.5 ? copyOf(running) : newData();
  const before = findRun(data, undefined);
  if ((await killedAfter(data, ['start', PRESS, JOB, '--run', 'late'], moment(random, 'start'))) === null)
    told.hit += 1;
  const open = findRun(data, undefined);
  if (before.ok && !open.ok) told.stuck.push('start: the run in progress is not found any more');
  if (!open.ok) {
    const again = await shell(data, ['start', PRESS, JOB, '--run', 'late']);
    if (again.code !== 0) told.stuck.push(`start again: ${again.err}`);
  }
  const after = await shell(data, ['stop', '--counter', '9000']);
  if (after.code !== 0) told.stuck.push(`stop after a killed start: ${after.err}`);
};

const ROWS = readFileSync(join(ROOT, 'demo-data/run.csv'), 'utf8').trim().split(/\r?\n/);
const twoRuns = (): string => {
  const [head = '', ...rows] = ROWS;
  const named = (run: string): readonly string[] => rows.map((row) => row.replace(/^[^,]*/, run));
  return `${[head, ...named('a'), ...named('b')].join('\n')}\n`;
};

const killImportNew = async (random: Seeded, told: Told, { whole }: Shared): Promise<void> => {
  const data = newData();
  const file = join(data, 'two.csv');
  writeFileSync(file, twoRuns());
  const args = ['import', file, '--press', PRESS, '--job', JOB];
  const code = await killedAfter(data, args, moment(random, 'import'));
  if (code === null) told.hit += 1;
  const sizes = ['a', 'b'].map((run) => recordsAt(data, run));
  if (sizes.some((size) => size > 0 && size < whole)) told.stuck.push(`import: a part stayed (${sizes.join(' and ')})`);
  if (sizes.every((size) => size === whole)) return;
  const again = await shell(data, args);
  if (again.code !== 0) told.stuck.push(`import again: ${again.err}`);
};

const recordsOfOne = async (): Promise<number> => {
  const data = newData();
  const file = join(data, 'two.csv');
  writeFileSync(file, twoRuns());
  await shell(data, ['import', file, '--press', PRESS, '--job', JOB]);
  return recordsAt(data, 'a');
};

const recordsAt = (data: string, run: string): number => {
  const folder = join(data, 'runs', run);
  return existsSync(folder) ? recordsIn(folder).length : 0;
};

const killImportInto = async (random: Seeded, told: Told, { running }: Shared): Promise<void> => {
  const data = copyOf(running);
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const before = recordsIn(folder).length;
  const file = join(data, 'more.csv');
  const rows = Array.from({ length: 400 }, (_, i) => `,n${i},,6000,,reading,2,0.0${i % 9},`);
  writeFileSync(file, `run,check,time,web_m,roll,kind,station,along_mm,across_mm\n${rows.join('\n')}\n`);
  const code = await killedAfter(data, ['import', file, '--run', run], moment(random, 'import'));
  if (code === null) told.hit += 1;
  const after = recordsIn(folder).length;
  if (after !== before && after !== before + rows.length)
    told.stuck.push(`import into a run: ${after - before} stayed`);
  if (after === before) {
    const again = await shell(data, ['import', file, '--run', run]);
    if (again.code !== 0) told.stuck.push(`import into a run again: ${again.err}`);
  }
};

/** A torn tail, and verify beside an act that takes its entry at the same time; whichever comes first, the entry stays. */
const killVerify = async (random: Seeded, told: Told, shared: Shared): Promise<void> => {
  const data = shared.own;
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const log =
    readdirSync(folder)
      .filter((name) => /^log-\d+\.ndjson$/.test(name))
      .sort()
      .at(-1) ?? '';
  writeFileSync(join(folder, log), '{"crc":"12', { flag: 'a' });
  const [verified, taken] = await Promise.all([
    killedAfter(data, ['verify'], moment(random, 'verify')),
    noteBeside(data, shared, random.uniform() * 60, Infinity),
  ]);
  if (verified === null) told.hit += 1;
  holdReadable(folder, told);
  if (taken !== null && !notesIn(folder).includes(taken)) told.lost.push(taken);
};

const killCheck = async (random: Seeded, told: Told, shared: Shared): Promise<void> => {
  const data = shared.own;
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const taken = await noteBeside(data, shared, 0, moment(random, 'check'));
  if (taken === null) told.hit += 1;
  holdReadable(folder, told);
  if (taken !== null && !notesIn(folder).includes(taken)) told.lost.push(taken);
};

/** What an operator keys at the shell besides checks; each may be said again and again. */
const OTHERS: readonly (readonly string[])[] = [
  ['moved', '3', 'operator', '--mm', '0.02'],
  ['roll', 'off', '17'],
  ['roll', 'new', '4000'],
  ['wash', '3'],
  ['stop'],
  ['stop', '--over'],
  ['holds', 'keep', '17', '--note', 'by hand', '--by', 'MK'],
  ['handover', '--sign', '--outgoing', 'MK', '--nobody'],
];

/** An act that was said to be taken is in the log; one that was killed is there whole or not at all. */
const killOther = async (random: Seeded, told: Told, shared: Shared): Promise<void> => {
  const data = shared.own;
  const [run = ''] = readdirSync(join(data, 'runs'));
  const folder = join(data, 'runs', run);
  const before = recordsIn(folder).length;
  shared.notes += 1;
  const [command = 'stop', ...args] = OTHERS[Math.floor(random.uniform() * OTHERS.length)] ?? [];
  const counter = command === 'holds' || command === 'handover' ? [] : ['--counter', String(6000 + shared.notes)];
  const said = await shell(data, [command, ...args, ...counter], moment(random, command));
  if (said.code === null) told.hit += 1;
  holdReadable(folder, told);
  const taken = recordsIn(folder).length - before;
  if (said.code === 0 && taken < 1) told.lost.push([command, ...args].join(' '));
  if (said.code !== null && said.code !== 0) told.stuck.push(`${[command, ...args].join(' ')}: ${said.err}`);
};

/** A run with one changed byte: whatever stayed of a killed rescue, the next one goes through, and the damaged run is as it was. */
const killRescue = async (random: Seeded, told: Told, { running }: Shared): Promise<void> => {
  const data = copyOf(running);
  const [run = ''] = readdirSync(join(data, 'runs'));
  const file = join(data, 'runs', run, 'log-0001.ndjson');
  const lines = readFileSync(file, 'utf8').split('\n');
  lines[2] = (lines[2] ?? '').replace('"at"', '"aT"');
  writeFileSync(file, lines.join('\n'));
  const said = await shell(data, ['rescue', run, '--as', 'saved'], moment(random, 'rescue'));
  if (said.code === null) told.hit += 1;
  if (readFileSync(file, 'utf8') !== lines.join('\n')) told.lost.push('rescue changed the damaged run');
  if (recordsAt(data, 'saved') === 0) {
    const again = await shell(data, ['rescue', run, '--as', 'saved']);
    if (again.code !== 0) told.stuck.push(`rescue again: ${again.err}`);
  }
  // Two whole entries, and the note of what is missing.
  if (recordsAt(data, 'saved') !== 3) told.stuck.push(`rescue: ${recordsAt(data, 'saved')} entries`);
  const after = await shell(data, ['stop', '--counter', '9000', '--run', 'saved']);
  if (after.code !== 0) told.stuck.push(`stop after a killed rescue: ${after.err}`);
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

/**
 * A moment in a command's life, from a tenth of it to just beyond its end. How long that is, is learned from those that were not killed: on a machine with
 * much else to do a fixed time would only ever hit the start of the program.
 */
const moment = (random: Seeded, command: string): number =>
  (0.1 + random.uniform()) * (lives.get(command) ?? lives.get('start') ?? 500);

/** How long each command took, ms, smoothed. */
const lives = new Map<string, number>();

const learn = (command: string, ms: number): void => {
  const known = lives.get(command);
  lives.set(command, known === undefined ? ms : 0.7 * known + 0.3 * ms);
};

/** Its exit code, or null when it was killed. */
const killedAfter = async (data: string, args: readonly string[], ms: number): Promise<number | null> =>
  (await shell(data, args, ms)).code;

const shell = (
  data: string,
  args: readonly string[],
  ms = Infinity,
): Promise<{ readonly code: number | null; readonly err: string }> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, [CLI, ...args], {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, HOLDREG_DATA: data, TZ: 'UTC' },
    });
    const began = performance.now();
    let err = '';
    child.stderr.on('data', (bytes) => {
      err += String(bytes);
    });
    const timer = Number.isFinite(ms) ? setTimeout(() => child.kill('SIGKILL'), ms) : null;
    child.on('close', (code) => {
      if (timer !== null) clearTimeout(timer);
      if (code !== null) learn(args[0] ?? '', performance.now() - began);
      resolve({ code, err });
    });
  });
