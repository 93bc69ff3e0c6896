import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { Result } from '../result.js';
import { readRows } from './read-rows.js';
import { type FileRun, rowsToRecords } from './rows-to-records.js';

/** A readings CSV as records, run by run; the whole file is read and checked before anything of it is taken. */
export const readReadings = (
  text: string,
  file: string,
  setup: { readonly press: Press; readonly job: Job },
): Result<readonly FileRun[]> => {
  const rows = readRows(text, file);
  return rows.ok ? rowsToRecords(rows.value, setup, file) : rows;
};
