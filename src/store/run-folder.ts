import { existsSync, lstatSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { quoted } from '../core/quoted.js';
import { fail, ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from './disk-problem.js';

/** The folder of an existing run. The id may be nothing that leads elsewhere; links are refused. */
export const runFolder = (dataDir: string, run: string): Result<string> => {
  const id = safeId(run);
  if (!id.ok) return id;
  const folder = join(dataDir, RUNS, run);
  try {
    const runs = existsSync(join(dataDir, RUNS)) ? plainFolder(join(dataDir, RUNS)) : null;
    return runs?.ok === false ? runs : plainFolder(folder);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return fail(`there is no run ${quoted(run)} in ${dataDir}`, folder, 'no-such-run');
    return diskProblem(error, 'open', folder);
  }
};

/** Makes the folder of a new run, owner only; refused when there is one of that name. */
export const createRun = (dataDir: string, run: string): Result<string> => {
  const runs = checkNewRun(dataDir, run);
  if (!runs.ok) return runs;
  const folder = join(runs.value, run);
  try {
    mkdirSync(folder, { mode: 0o700 });
    return ok(folder);
  } catch (error) {
    if (codeOf(error) === 'EEXIST')
      return fail(`there is already a run ${quoted(run)} in ${dataDir}; choose another name`, folder);
    return diskProblem(error, 'make', folder);
  }
};

/** Whether a run may have that name; the folder of all runs, which is made when there is none. */
export const checkNewRun = (dataDir: string, run: string): Result<string> => {
  const id = safeId(run);
  if (!id.ok) return id;
  const runs = join(dataDir, RUNS);
  try {
    mkdirSync(runs, { recursive: true, mode: 0o700 });
    return plainFolder(runs);
  } catch (error) {
    return diskProblem(error, 'make', join(runs, run));
  }
};

/** The runs of a data folder by id, sorted; an empty list when there is none yet. */
export const runsOf = (dataDir: string): Result<readonly string[]> => {
  try {
    const entries = readdirSync(join(dataDir, RUNS), { withFileTypes: true });
    return ok(
      entries
        .filter((entry) => entry.isDirectory() && safeId(entry.name).ok)
        .map(({ name }) => name)
        .toSorted(),
    );
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? ok([]) : diskProblem(error, 'read', join(dataDir, RUNS));
  }
};

/** The next free id on a day (`2026-03-02`): `2026-03-02-1`, `-2`, … */
export const freeRunId = (dataDir: string, day: string): string => {
  for (let number = 1; ; number += 1)
    if (!existsSync(join(dataDir, RUNS, `${day}-${number}`))) return `${day}-${number}`;
};

const RUNS = 'runs';
/** Names that Windows keeps for devices, with any ending. */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

const safeId = (run: string): Result<null> =>
  /^[A-Za-z0-9](?:[A-Za-z0-9._-]{0,62}[A-Za-z0-9])?$/.test(run) && !run.includes('..') && !DEVICE.test(run)
    ? ok(null)
    : fail(
        `${quoted(run)} cannot be the name of a run; use 1 to 64 letters, digits, point, - and _, beginning and ending with a letter or digit`,
        undefined,
        'no-run-name',
      );

const plainFolder = (folder: string): Result<string> =>
  lstatSync(folder).isDirectory()
    ? ok(folder)
    : fail(`${folder} is a link or a file, not a folder; links are not followed here`, folder);
