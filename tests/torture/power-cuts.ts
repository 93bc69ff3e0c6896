import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { holdreg, JOB, PRESS, ROOT } from '../end-to-end/program.js';
import { seeded } from '../support/seeded.js';
import { recordsIn } from './ledger.js';

/*
 * A disk whose power fails: an ext4 file system in a file, mounted through a loop device. What a program has written but not synced is in the memory of the file
 * system and not in that file; so a copy of the file is what a disk would hold had the power failed then. The run goes on from the copy, mounted anew.
 */

export type PowerCuts = {
  readonly cuts: number;
  /** Entries that were said to be on disk. */
  readonly shown: number;
  /** Entries that stood in the log beyond those. */
  readonly more: number;
  readonly tornTails: number;
  readonly lost: readonly string[];
  readonly stuck: readonly string[];
};

const MB = 1 << 20;
const SIZE = 24 * MB;

const command = (name: string, ...args: readonly string[]): boolean =>
  spawnSync(name, args, { stdio: 'ignore' }).status === 0;

/** A disk in a file, empty. */
const newDisk = (room: string): string => {
  const file = join(room, 'disk-0');
  writeFileSync(file, '');
  truncateSync(file, SIZE);
  execFileSync('mkfs.ext4', ['-q', '-F', file]);
  return file;
};

/** The file system writes of itself once in five minutes only: all else that reaches the disk was asked for. */
const mount = (file: string, at: string): boolean => command('mount', '-o', 'loop,commit=300', file, at);

/** Why no power can be cut on this machine; null = it can. */
export const noPowerCuts = (): string | null => {
  const room = mkdtempSync(join(tmpdir(), 'holdreg-power-'));
  try {
    const disk = newDisk(room);
    const at = mkdtempSync(join(room, 'at-'));
    if (!mount(disk, at)) return 'a loop device cannot be mounted here (not root, or no loop devices)';
    command('umount', at);
    return null;
  } catch {
    return 'there is no mkfs.ext4 here';
  } finally {
    rmSync(room, { recursive: true, force: true });
  }
};

/** `lying`: the writer is given a disk that says "done" before it is, which must be found out. */
export const powerCuts = async ({
  cuts,
  seed,
  lying = false,
}: {
  cuts: number;
  seed: number;
  lying?: boolean;
}): Promise<PowerCuts> => {
  const random = seeded(seed);
  const room = mkdtempSync(join(tmpdir(), 'holdreg-power-'));
  const at = mkdtempSync(join(room, 'at-'));
  const told = { shown: 0, more: 0, tornTails: 0, lost: [] as string[], stuck: [] as string[] };
  let disk = newDisk(room);
  let next = 0;
  try {
    for (let cut = 1; cut <= cuts; cut += 1) {
      if (!mount(disk, at)) throw new Error(`${disk} cannot be mounted`);
      const data = join(at, 'data');
      if (cut === 1 && holdreg(data, 'start', PRESS, JOB, '--by', 'MK').code !== 0) throw new Error('no run');
      const shown = await writeUntilCut(data, next, { ms: 50 + 500 * random.uniform(), lying }, () => {
        const copy = join(room, `disk-${cut}`);
        copyStill(disk, copy);
        rmSync(disk);
        disk = copy;
      });
      command('umount', at);
      if (!mount(disk, at)) throw new Error(`${disk} cannot be mounted`);
      told.shown += shown.length;
      const stands = afterCut(data, told);
      for (const n of shown) if (!stands.has(n)) told.lost.push(`cut ${cut}: note ${n}`);
      for (let n = 0; n < stands.size; n += 1) if (!stands.has(n)) told.lost.push(`cut ${cut}: a gap at note ${n}`);
      told.more += stands.size - next - shown.length;
      next = stands.size;
      command('umount', at);
    }
  } finally {
    command('umount', '-l', at);
    rmSync(room, { recursive: true, force: true });
  }
  return { cuts, ...told };
};

/** What the program finds when the power is back: it says so, nothing is altered, and the next entry is taken. The notes that stand. */
const afterCut = (data: string, told: { tornTails: number; readonly stuck: string[] }): ReadonlySet<number> => {
  const verified = holdreg(data, 'verify');
  if (verified.code !== 0) told.stuck.push(`verify: ${verified.out}${verified.err}`);
  if (/cut off|cut short/.test(verified.out)) told.tornTails += 1;
  const act = holdreg(data, 'stop', '--counter', '0');
  if (act.code !== 0) told.stuck.push(`stop: ${act.err}`);
  const notes = recordsIn(folderOf(data)).flatMap((r) => (r.type === 'note' && r.by === 'MK' ? [Number(r.text)] : []));
  if (new Set(notes).size !== notes.length) told.stuck.push('a note stands there twice');
  return new Set(notes);
};

const folderOf = (data: string): string => join(data, 'runs', readdirSync(join(data, 'runs'))[0] ?? '');

/** Notes numbered from `first`, three that share a sync and one by itself in turn; each number is said once it is on disk. */
const WRITER = `
import { writeSync } from 'node:fs';
const [folder, first, lying] = process.argv.slice(1);
const { openRun } = await import(${JSON.stringify(new URL('dist/runtime.js', `file://${ROOT}`).href)});
const { realDisk } = await import(${JSON.stringify(new URL('dist/store/disk.js', `file://${ROOT}`).href)});
const liar = { ...realDisk, sync: (_, done) => setImmediate(done, null), syncNow: () => undefined };
const opened = await openRun(folder, { operator: 'MK', disk: lying === 'true' ? liar : realDisk });
if (!opened.ok) throw new Error(opened.problem.message);
let n = Number(first);
const put = async (options) => {
  const own = n++;
  const wrote = await opened.value.submit({ type: 'note', web_m: null, text: String(own) }, options);
  if (!wrote.ok) throw new Error(wrote.problem.message);
  writeSync(1, own + '\\n');
};
for (;;) {
  await Promise.all([put({ soon: true }), put({ soon: true }), put({ soon: true })]);
  await put({});
}`;

/** Writes for so many milliseconds from the first note on; then everything stands still, `cut` is called, and nothing goes on. The notes that were said to be on disk. */
const writeUntilCut = async (
  data: string,
  first: number,
  { ms, lying }: { readonly ms: number; readonly lying: boolean },
  cut: () => void,
): Promise<readonly number[]> => {
  const child = spawn(
    process.execPath,
    ['--input-type=module', '-e', WRITER, folderOf(data), String(first), String(lying)],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  let out = '';
  let err = '';
  child.stdout.on('data', (bytes) => {
    out += String(bytes);
  });
  child.stderr.on('data', (bytes) => {
    err += String(bytes);
  });
  const exited = once(child, 'close');
  await Promise.race([once(child.stdout, 'data'), exited]);
  await wait(ms);
  if (child.exitCode !== null) throw new Error(`the writer ended: ${err}`);
  child.kill('SIGSTOP');
  cut();
  child.kill('SIGKILL');
  await exited;
  // What it said stood in the pipe before it was stopped.
  return out.split('\n').slice(0, -1).map(Number);
};

/** A sync that was under way when the program was stopped still comes to its end: copied until nothing changes any more. */
const copyStill = (from: string, to: string): void => {
  let before = readFileSync(from);
  for (;;) {
    const now = readFileSync(from);
    if (now.equals(before)) break;
    before = now;
  }
  writeFileSync(to, before);
};
