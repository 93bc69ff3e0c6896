import { constants } from 'node:os';
import type { Problem } from '../core/result.js';

type Refused = { readonly ok: false; readonly problem: Problem };

/** What the disk refused, in words: what was being done, to which file, why, what to do. Anything else that was thrown is a bug and goes on up. */
export const diskProblem = (error: unknown, doing: string, path: string): Refused => {
  const code = codeOf(error);
  if (code === null) throw error;
  const why = WORDS[code] ?? `the system refused (${code}); check the disk, or choose another folder with --data`;
  return refusal(why, doing, path, !NAMED_WRONG.has(code));
};

/**
 * The same for the one place that must survive whatever is thrown at it, a fault in the program too: the log's writer. An entry that was not written is a
 * refusal; it must not take the board away.
 */
export const writeProblem = (error: unknown, doing: string, path: string): Refused =>
  codeOf(error) === null
    ? refusal(`${error instanceof Error ? error.message : String(error)}; check the disk`, doing, path, true)
    : diskProblem(error, doing, path);

/** The same for a disk that takes nothing and says nothing. */
export const tookNothing = (path: string): Refused =>
  refusal('the disk took nothing; free some space', 'write', path, true);

const refusal = (why: string, doing: string, path: string, machine: boolean): Refused => ({
  ok: false,
  problem: {
    message: `could not ${doing} ${path}: ${why}`,
    where: path,
    why,
    ...(machine ? { code: 'machine' as const } : {}),
  },
});

/**
 * The system's name of the trouble (ENOSPC, EACCES, …), or null when it is none of the system's. Node has no name for some (a quota, a stale handle of a
 * network disk): those carry only the system's number, and are as much its refusal as any other.
 */
export const codeOf = (error: unknown): string | null => {
  if (typeof error !== 'object' || error === null) return null;
  const code: unknown = Reflect.get(error, 'code');
  if (typeof code === 'string' && /^E[A-Z0-9]+$/.test(code) && !code.startsWith('ERR')) return code;
  const number: unknown = Reflect.get(error, 'errno');
  return typeof number === 'number' ? (nameOf(Math.abs(number)) ?? `error ${Math.abs(number)}`) : null;
};

/** The disk is well: the name that was given leads to something else. */
const NAMED_WRONG = new Set(['ENOTDIR', 'EISDIR', 'ELOOP', 'EEXIST']);

const nameOf = (number: number): string | undefined =>
  Object.entries(constants.errno).find(([, value]) => value === number)?.[0] ??
  (process.platform === 'linux' ? LINUX[number] : undefined);

/** Names that Node does not carry. */
const LINUX: Readonly<Record<number, string>> = { 116: 'ESTALE', 122: 'EDQUOT', 123: 'ENOMEDIUM', 121: 'EREMOTEIO' };

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
  ESTALE: 'the network disk was taken away meanwhile; mount it again',
  ENOMEDIUM: 'the disk is not in the drive any more; put it back',
  EREMOTEIO: 'the disk reported an error; copy the data away and check the disk',
  ETIMEDOUT: 'the network disk does not answer; check the network',
  EFBIG: 'the file would grow too large for this disk',
};
