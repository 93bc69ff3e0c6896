import { closeSync, constants, fstatSync, openSync, readFileSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import CRC32 from 'crc-32';
import { z } from 'zod';
import { ok, type ProblemCode, type Result } from '../core/result.js';
import type { RunState } from '../core/run/state.js';
import type { TellerKept } from '../core/views/run-teller.js';
import { type ByteChain, CHAIN_START, chainTo } from './byte-chain.js';
import { codeOf, diskProblem } from './disk-problem.js';
import { replaceWhole } from './whole-file.js';

/*
 * A checkpoint is what was worked out of a log up to a place in it, so that a long run opens without being judged anew. It is never the truth: it may be
 * deleted at any time, and it is thrown away unless the log bears it out, every byte of it up to that place (length, last sequence number, chained CRC),
 * and it was made by this very program. `checkpoint.json` is one line of JSON with its own checksum:
 *
 *   {"crc":"1a2b3c4d","format":"checkpoint/1","program":"…","place":{"segment":2,"offset":5120,"line":17,"seq":70213},"chain":"…","state":{…}}
 *
 * `told.json` is the same with `"teller":{…}` at its end: what a handover tells of the whole run, which grows with the run's checks and is asked for seldom.
 */

export type Checkpoint = { readonly chain: ByteChain; readonly state: RunState; readonly teller?: TellerKept };

export type CheckpointName = 'checkpoint.json' | 'told.json';

/** Writes one, whole or not at all. Trouble is told but is no trouble of the log. */
export const writeCheckpoint = (
  folder: string,
  program: string,
  { chain, ...kept }: Checkpoint,
  name: CheckpointName = 'checkpoint.json',
): Result<null> => {
  const path = checkpointFile(folder, name);
  const beside = `${path}.new`;
  try {
    const body = `${JSON.stringify({ format: FORMAT, program, place: chain.place, chain: hex(chain.crc), ...kept }).slice(1)}\n`;
    replaceWhole(path, beside, `${OPENING}${hex(CRC32.str(body))}",${body}`, 'unsynced');
    return ok(null);
  } catch (error) {
    try {
      rmSync(beside, { force: true });
    } catch {
      // It will be taken away the next time.
    }
    return diskProblem(error, 'write', path);
  }
};

/** The checkpoint of a run folder, if the log bears it out; null = there is none. Fails, in words, when there is one that must not be used. */
export const readCheckpoint = (
  folder: string,
  program: string,
  name: CheckpointName = 'checkpoint.json',
): Result<Checkpoint | null> => {
  const path = checkpointFile(folder, name);
  const text = textOf(path);
  if (!text.ok) return text;
  if (text.value === null) return ok(null);
  const sum = text.value.slice(OPENING.length, OPENING.length + 8);
  const body = text.value.slice(OPENING.length + 10);
  if (!text.value.startsWith(OPENING) || sum !== hex(CRC32.str(body)))
    return wrong(path, 'is cut short or was changed');
  const parsed: unknown = JSON.parse(`{${body}`);
  const read = schema.safeParse(parsed);
  if (!read.success) return wrong(path, 'is not in the form this program writes');
  if (read.data.program !== program) return wrong(path, 'was made by another version of the program', 'other-version');
  const { place, chain } = read.data;
  // As it was written: what checks the form puts the keys in another order.
  const { state, teller } = parsed as Pick<Checkpoint, 'state' | 'teller'>;
  const chained = chainTo(folder, CHAIN_START, place);
  if (!chained.ok || hex(chained.value.crc) !== chain || state.seq !== place.seq)
    return wrong(path, 'does not fit the log');
  return ok({ chain: chained.value, state, ...(teller === undefined ? {} : { teller }) });
};

/** It will be made anew. */
export const dropCheckpoint = (folder: string): void => {
  try {
    rmSync(checkpointFile(folder), { force: true });
  } catch {
    // It is held against the log every time it is read: one that stays does no harm.
  }
};

export const checkpointFile = (folder: string, name: CheckpointName = 'checkpoint.json'): string => join(folder, name);

const FORMAT = 'checkpoint/1';
const OPENING = '{"crc":"';
/** Far beyond the state of any run, which is bounded, and the telling of a million checks. */
const LARGEST = 1 << 28;
const count = z.int().nonnegative();
const schema = z.strictObject({
  format: z.literal(FORMAT),
  program: z.string(),
  place: z.strictObject({ segment: count.min(1), offset: count, line: count, seq: count }),
  chain: z.string(),
  state: z.looseObject({ run: z.string(), seq: count }),
  teller: z.unknown().optional(),
});

const hex = (crc: number): string => (crc >>> 0).toString(16).padStart(8, '0');

const wrong = (path: string, why: string, code?: ProblemCode): Result<never> => ({
  ok: false,
  problem: {
    message: `${path} ${why}; ${THROWN}`,
    where: path,
    why: `${basename(path)} ${why}; ${THROWN}`,
    ...(code === undefined ? {} : { code }),
  },
});

const THROWN = 'it was thrown away and the run worked out of its log';

const textOf = (path: string): Result<string | null> => {
  try {
    // A pipe in its place would be waited for.
    const fd = openSync(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0));
    try {
      const found = fstatSync(fd);
      return found.isFile() && found.size <= LARGEST ? ok(readFileSync(fd, 'utf8')) : wrong(path, 'is no file of ours');
    } finally {
      closeSync(fd);
    }
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return ok(null);
    return diskProblem(error, 'read', path);
  }
};
