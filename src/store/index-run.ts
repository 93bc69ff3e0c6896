import { ok, type Result } from '../core/result.js';
import { readLog } from './read-log.js';
import { runFolder } from './run-folder.js';
import type { RunEntry } from './shop-data.js';

/** The shop file's entry of a run, worked out from its log alone; null when the log has no beginning yet. A damaged log is told of up to its damage. */
export const indexRun = (dataDir: string, run: string): Result<RunEntry | null> => {
  const folder = runFolder(dataDir, run);
  if (!folder.ok) return folder;
  let entry: RunEntry | null = null;
  readLog(folder.value, (record) => {
    if (record.type === 'begin')
      entry = { id: run, press: record.press.name, job: record.job.name, begun: record.at, ended: null };
    // A record after the end means that the run was taken up again.
    else if (entry !== null) entry = { ...entry, ended: record.type === 'end' ? record.at : null };
  });
  return ok(entry);
};
