import { fail, ok, type Result } from '../core/result.js';
import { hasEnded } from '../store/has-ended.js';
import { isBegun } from '../store/is-begun.js';
import { logBatches } from '../store/read-log.js';
import { isRescued } from '../store/rescued.js';
import { runFolder, runsOf } from '../store/run-folder.js';

const NONE_IN_PROGRESS = 'no run is in progress. Start one: holdreg start press.json job.json (with no files it asks)';

/** The folder of the run asked for, or of the one begun last that has not ended. */
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
  const candidates: { readonly folder: string; readonly begun: string }[] = [];
  for (const id of runs.value.toSorted(byName)) {
    const folder = runFolder(dataDir, id);
    if (!folder.ok) return folder;
    // Without a first record it is no run (a start that was cut short), and stands in nobody's way.
    if (!isBegun(folder.value) || isRescued(folder.value) || (ended === 'skip' && hasEnded(folder.value))) continue;
    candidates.push({ folder: folder.value, begun: begunAt(folder.value) });
  }
  // Names are the operator's own; only the first entry says which run is the newest. Sorting keeps the order of names where the times are the same.
  const [first] = candidates.toSorted((a, b) => (a.begun === b.begun ? 0 : a.begun < b.begun ? 1 : -1));
  return first === undefined ? fail(NONE_IN_PROGRESS, undefined, 'none-in-progress') : ok(first.folder);
};

/** `2026-03-02-10` after `2026-03-02-9`. */
const byName = (a: string, b: string): number => b.localeCompare(a, 'en', { numeric: true });

/** When a run began, by its first entry; one whose log cannot be read comes first, so that it is said and not passed over. */
const begunAt = (folder: string): string => {
  for (const batch of logBatches(folder)) return batch.records[0]?.at ?? LAST;
  return LAST;
};

const LAST = '\uffff';
