import type { LogRecord } from '../core/record.js';
import { fail, type Result } from '../core/result.js';
import { readLog } from '../store/read-log.js';
import { runFolder, runsOf } from '../store/run-folder.js';

export const NONE_IN_PROGRESS =
  'no run is in progress. Start one: holdreg start press.json job.json (with no files it asks)';

/** The folder of the run asked for, or of the newest that has not ended. */
export const findRun = (dataDir: string, run: string | undefined, ended: 'skip' | 'take' = 'skip'): Result<string> => {
  if (run !== undefined) return runFolder(dataDir, run);
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

/** A damaged log counts as open: opening it will say what is wrong. */
const hasEnded = (folder: string): boolean => {
  let ended: number | null = null;
  const read = readLog(folder, (record: LogRecord) => {
    if (record.type === 'end') ended = record.seq;
    if (record.type === 'withdraw' && record.entry === ended) ended = null;
  });
  return read.ok && ended !== null;
};
