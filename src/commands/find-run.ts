import { fail, type Result } from '../core/result.js';
import { hasEnded } from '../store/has-ended.js';
import { runFolder, runsOf } from '../store/run-folder.js';

export const NONE_IN_PROGRESS =
  'no run is in progress. Start one: holdreg start press.json job.json (with no files it asks)';

/** The folder of the run asked for, or of the newest that has not ended. */
export const findRun = (dataDir: string, run: string | undefined): Result<string> =>
  run === undefined ? newest(dataDir, 'skip') : runFolder(dataDir, run);

/** The same for what only reads: with none in progress, the newest that has ended. */
export const findRunToRead = (dataDir: string, run: string | undefined): Result<string> => {
  const open = findRun(dataDir, run);
  return open.ok || run !== undefined ? open : newest(dataDir, 'take');
};

const newest = (dataDir: string, ended: 'skip' | 'take'): Result<string> => {
  const runs = runsOf(dataDir);
  if (!runs.ok) return runs;
  for (const id of runs.value.toSorted(newestFirst)) {
    const folder = runFolder(dataDir, id);
    if (!folder.ok) return folder;
    if (ended === 'take' || !hasEnded(folder.value)) return folder;
  }
  return fail(NONE_IN_PROGRESS);
};

/** `2026-03-02-10` after `2026-03-02-9`. */
const newestFirst = (a: string, b: string): number => b.localeCompare(a, 'en', { numeric: true });
