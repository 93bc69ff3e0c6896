import {
  closeSync,
  constants,
  fsyncSync,
  lstatSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from './disk-problem.js';

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
  const beside = `${path}.new`;
  try {
    rmSync(beside, { force: true });
    const fd = openSync(beside, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL, 0o600);
    try {
      const bytes = Buffer.from(text);
      for (let from = 0; from < bytes.length; ) from += writeSync(fd, bytes, from);
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
    renameSync(beside, path);
    return ok(null);
  } catch (error) {
    return diskProblem(error, 'write', path);
  }
};

const LARGEST = 1 << 20;
const fileOf = (folder: string): string => join(folder, 'drafts.json');
