import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { quoted } from '../core/quoted.js';
import { fail, ok, type Result } from '../core/result.js';
import { realDisk } from './disk.js';
import { codeOf, diskProblem } from './disk-problem.js';
import { isBegun } from './is-begun.js';
import { takeLock } from './lock.js';
import { checkNewRun } from './run-folder.js';

/** A new run that is being made: nobody sees it until it is published, whole, by one rename. */
export type StagedRun = {
  readonly folder: string;
  /** Gives it its name and makes that durable; answers with its folder. */
  readonly publish: () => Result<string>;
  /** Takes it away again; a staged run holds nothing that was taken. */
  readonly drop: () => void;
};

/**
 * Begins a new run beside the others (`runs/.new-ID-PID`, a name that no run can have). A program that is killed meanwhile, or a disk that is full, leaves
 * no half run behind that would stand in anybody's way.
 */
export const stageRun = (dataDir: string, run: string): Result<StagedRun> => {
  const runs = checkNewRun(dataDir, run);
  if (!runs.ok) return runs;
  serial += 1;
  const folder = join(runs.value, `${STAGED}${run}-${process.pid}-${serial}`);
  try {
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder, { mode: 0o700 });
  } catch (error) {
    return diskProblem(error, 'make', folder);
  }
  // So that verify sees that it is still being made. The lock moves with the folder and is taken off there.
  const lock = takeLock(folder, new Date());
  if (!lock.ok || lock.value.held) {
    rmSync(folder, { recursive: true, force: true });
    return lock.ok ? fail(`could not make ${folder}: ${lock.value.held ? lock.value.message : ''}`, folder) : lock;
  }
  const drop = (): void => {
    try {
      rmSync(folder, { recursive: true, force: true });
    } catch {
      // It is out of everybody's way; verify takes it away later.
    }
  };
  return ok({ folder, publish: () => publish(dataDir, run, runs.value, folder), drop });
};

/** What killed starts and imports left beside the runs. */
export const stagedLeft = (dataDir: string): readonly string[] => {
  const runs = join(dataDir, 'runs');
  try {
    return readdirSync(runs)
      .filter((name) => name.startsWith(STAGED))
      .map((name) => join(runs, name));
  } catch {
    return [];
  }
};

const STAGED = '.new-';
let serial = 0;

const publish = (dataDir: string, run: string, runs: string, staged: string): Result<string> => {
  const folder = join(runs, run);
  const taken = (): Result<never> =>
    fail(`there is already a run ${quoted(run)} in ${dataDir}; choose another name`, folder);
  try {
    if (existsSync(folder)) {
      if (isBegun(folder)) return taken();
      const aside = setAside(folder, run, runs);
      if (!aside.ok) return aside;
    }
    rmSync(join(staged, 'lock'), { force: true });
    realDisk.syncFolder(staged);
    renameSync(staged, folder);
    realDisk.syncFolder(runs);
    return ok(folder);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOTEMPTY' || code === 'EEXIST') return taken();
    return diskProblem(error, 'make', folder);
  }
};

/** A folder without a first record makes room, unless somebody is just beginning a run in it. */
const setAside = (folder: string, run: string, runs: string): Result<null> => {
  const lock = takeLock(folder, new Date());
  if (!lock.ok) return lock;
  if (lock.value.held) return fail(`run ${quoted(run)} is just being started: ${lock.value.message}`, folder);
  for (let number = 1; ; number += 1) {
    const aside = join(runs, `.left-${run}-${number}`);
    if (existsSync(aside)) continue;
    renameSync(folder, aside);
    rmSync(join(aside, 'lock'), { force: true });
    return ok(null);
  }
};
