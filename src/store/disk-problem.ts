import { fail, type Problem } from '../core/result.js';

/** What the disk refused, in words: what was being done, to which file, why, what to do. Anything else that was thrown is a bug and goes on up. */
export const diskProblem = (
  error: unknown,
  doing: string,
  path: string,
): { readonly ok: false; readonly problem: Problem } => {
  const code = codeOf(error);
  if (code === null) throw error;
  return fail(`could not ${doing} ${path}: ${WORDS[code] ?? `the system said ${code}`}`, path);
};

/** The system's name of the trouble (ENOSPC, EACCES, …), or null when it is none of the system's. */
export const codeOf = (error: unknown): string | null => {
  const code = typeof error === 'object' && error !== null ? Reflect.get(error, 'code') : null;
  return typeof code === 'string' && /^E[A-Z0-9]+$/.test(code) ? code : null;
};

const WORDS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full; free some space',
  EDQUOT: 'the disk quota is used up; free some space',
  EROFS: 'the disk is read-only; choose another folder with --data',
  EACCES: 'no permission; check who owns it, or choose another folder with --data',
  EPERM: 'not permitted; check who owns it, or choose another folder with --data',
  ENOENT: 'it is not there; check the name, or that the disk is still plugged in',
  ENOTDIR: 'a part of its path is a file, not a folder',
  EISDIR: 'it is a folder, not a file',
  ELOOP: 'it is a link; links are not followed here',
  EEXIST: 'it is already there',
  EIO: 'the disk reported an error; copy the data away and check the disk',
  EMFILE: 'too many files are open; close other programs',
  EFBIG: 'the file would grow too large for this disk',
};
