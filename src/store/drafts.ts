import { lstatSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from './disk-problem.js';
import { replaceWhole } from './whole-file.js';

/** Half-keyed checks, beside the log: one text, replaced whole, owner only. It is not the log's: losing it costs some keying. */
export const loadDrafts = (folder: string): string | null => {
  const path = fileOf(folder);
  try {
    const found = lstatSync(path);
    return found.isFile() && found.size <= LARGEST ? readFileSync(path, 'utf8') : null;
  } catch (error) {
    if (codeOf(error) === null) throw error;
    return null;
  }
};

/** Written beside, synced, renamed: a power cut leaves the one before. */
export const saveDrafts = (folder: string, text: string): Result<null> => {
  const path = fileOf(folder);
  try {
    replaceWhole(path, `${path}.new`, text, 'synced');
    return ok(null);
  } catch (error) {
    return diskProblem(error, 'write', path);
  }
};

const LARGEST = 1 << 20;
const fileOf = (folder: string): string => join(folder, 'drafts.json');
