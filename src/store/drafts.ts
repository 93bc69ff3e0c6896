import { existsSync, lstatSync, readFileSync, renameSync } from 'node:fs';
import { basename, join } from 'node:path';
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

/** Renamed beside, never written over: answers with the name, or null when it cannot be. */
export const setDraftsAside = (folder: string): string | null => {
  const path = fileOf(folder);
  try {
    for (let number = 1; ; number += 1) {
      const aside = `${path}.aside-${number}`;
      if (existsSync(aside)) continue;
      renameSync(path, aside);
      return basename(aside);
    }
  } catch (error) {
    if (codeOf(error) === null) throw error;
    return null;
  }
};

const LARGEST = 1 << 20;
const fileOf = (folder: string): string => join(folder, 'drafts.json');
