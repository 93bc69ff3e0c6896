import { constants, copyFileSync, linkSync, lstatSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { visible } from '../core/quoted.js';
import { fail, ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from './disk-problem.js';
import { isAlive, markOf } from './process-mark.js';
import { isThisMachine, machineName, thisMachine } from './this-machine.js';
import { writeNew } from './whole-file.js';

/** Who writes a run. */
export type Holder = z.infer<typeof holderSchema>;

export type Lock =
  | { readonly held: false; readonly release: () => void }
  /** Somebody else has it: who, and in words for the operator. */
  | { readonly held: true; readonly holder: Holder; readonly message: string };

/**
 * Takes the one place of a writer in a run's folder. The holder is a file with its process, start time, machine and user, put there whole by one
 * link(2), so two that come at once cannot both have it. A holder on this machine that no longer runs (killed, or its pid went to another process) loses
 * it at once; one on another, also of the same name, is believed, since it cannot be asked. What killed programs left beside it is cleared away.
 */
export const takeLock = (folder: string, now: Date, who: Partial<Holder> = {}): Result<Lock> => {
  const file = join(folder, 'lock');
  const mine: Holder = {
    ...markOf(process.pid),
    host: thisMachine(),
    user: userName(),
    since: now.toISOString(),
    ...who,
  };
  serial += 1;
  const own = `${file}.${process.pid}-${serial}`;
  try {
    writeNew(own, `${JSON.stringify(mine)}\n`, 'synced');
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      if (linked(own, file)) return taken(folder, file, mine);
      const holder = holderOf(file);
      if (!holder.ok) return holder;
      if (holder.value === 'gone') continue;
      if (holder.value === 'unreadable' && isFresh(file)) {
        pause();
        continue;
      }
      if (holder.value !== 'unreadable' && stillHeld(holder.value))
        return ok({ held: true, holder: holder.value, message: inWords(holder.value) });
      if (!breakStale(file, own, holder.value)) pause();
      else return taken(folder, file, mine);
    }
    return fail(`could not take ${file}: several programs are starting at once; try again`, file);
  } catch (error) {
    return diskProblem(error, 'take', file);
  } finally {
    rmSync(own, { force: true });
  }
};

/** Who holds the run's place now, in words, without taking it; null = nobody that lives. */
export const whoHolds = (folder: string): string | null => {
  const holder = holderOf(join(folder, 'lock'));
  return holder.ok && typeof holder.value === 'object' && stillHeld(holder.value) ? inWords(holder.value) : null;
};

const taken = (folder: string, file: string, mine: Holder): Result<Lock> => {
  clearLeft(folder);
  return ok({ held: false, release: () => release(file, mine) });
};

/** A program that was killed while it took the place leaves the file it would have put there. */
const clearLeft = (folder: string): void => {
  try {
    for (const name of readdirSync(folder)) {
      if (!LEFT.test(name)) continue;
      const file = join(folder, name);
      const holder = holderOf(file);
      if (!holder.ok || holder.value === 'gone' || (holder.value === 'unreadable' && isFresh(file))) continue;
      if (holder.value === 'unreadable' || !stillHeld(holder.value)) rmSync(file, { force: true });
    }
  } catch {
    // They are in nobody's way.
  }
};

const LEFT = /^lock\.(?:\d+-\d+(?:\.next)?|breaking)$/;

// Loose, so that what a later program adds is not taken for a file cut short.
const holderSchema = z.object({
  pid: z.int().positive(),
  started: z.string().nullable(),
  host: z.string(),
  user: z.string(),
  since: z.string(),
});

const ATTEMPTS = 50;
const NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS']);
let serial = 0;

/** 'unreadable' = cut short by power failing: then its writer is gone too. */
const holderOf = (file: string): Result<Holder | 'gone' | 'unreadable'> => {
  try {
    if (!lstatSync(file).isFile()) return fail(`${file} is not a plain file; take it away`, file);
    const read = holderSchema.safeParse(JSON.parse(readFileSync(file, 'utf8')));
    return ok(read.success ? read.data : 'unreadable');
  } catch (error) {
    if (error instanceof SyntaxError) return ok('unreadable');
    return codeOf(error) === 'ENOENT' ? ok('gone') : diskProblem(error, 'read', file);
  }
};

const stillHeld = (holder: Holder): boolean => !isThisMachine(holder.host) || isAlive(holder);

/** Puts our file in the place of a stale one. Only one process at a time may: it holds `lock.breaking` meanwhile and looks again first. */
const breakStale = (file: string, own: string, stale: Holder | 'unreadable'): boolean => {
  const breaking = `${file}.breaking`;
  if (!linked(own, breaking)) {
    const breaker = holderOf(breaking);
    if (breaker.ok && breaker.value !== 'gone' && (breaker.value === 'unreadable' || !stillHeld(breaker.value)))
      rmSync(breaking, { force: true });
    return false;
  }
  try {
    const again = holderOf(file);
    if (!again.ok || JSON.stringify(again.value) !== JSON.stringify(stale)) return false;
    const copy = `${own}.next`;
    if (!linked(own, copy)) return false;
    renameSync(copy, file);
    return true;
  } finally {
    rmSync(breaking, { force: true });
  }
};

const linked = (from: string, to: string): boolean => {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    const code = codeOf(error);
    if (code === 'EEXIST') return false;
    if (code === null || !NO_LINKS.has(code)) throw error;
  }
  // A disk without hard links (a memory stick): made at its place, and for a moment unreadable.
  try {
    copyFileSync(from, to, constants.COPYFILE_EXCL);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
};

/** Perhaps just being written by another. */
const isFresh = (file: string): boolean => {
  try {
    return Math.abs(Date.now() - lstatSync(file).mtimeMs) < 2000;
  } catch {
    return false;
  }
};

const release = (file: string, mine: Holder): void => {
  const holder = holderOf(file);
  if (holder.ok && JSON.stringify(holder.value) === JSON.stringify(mine)) rmSync(file, { force: true });
};

const inWords = ({ pid, host, user, since }: Holder): string => {
  const here = isThisMachine(host);
  const where = here ? '' : ` on ${visible(machineName(host))}`;
  const hint = here ? '' : `; if that computer no longer runs holdreg, delete the file "lock" in the run's folder`;
  return `held by ${visible(user)} (process ${pid}${where}) since ${visible(since)}${hint}`;
};

const pause = (): void => {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2);
};

const userName = (): string => {
  try {
    return userInfo().username;
  } catch {
    return 'unknown user';
  }
};
