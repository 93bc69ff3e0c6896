import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fail, ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';
import { segmentsOf } from './segments.js';

/*
 * The chain of records
 *
 * Every line of a log (from record version 2 on) carries `"chain"`: the SHA-256 of the chain before it and of the line before it, so of all
 * lines before it. Who changes a line and puts its CRC right breaks the link to the next line; who puts all later links right changes the head,
 * which stands on every handover that was printed and in every seal. Lines of older logs carry no chain, but are chained all the same: the first
 * line that does carry one vouches for them.
 * Source: the hash chain of S. Haber and W. S. Stornetta, "How to time-stamp a digital document", J. Cryptology 3 (1991), from memory.
 */

/** Before the first line. */
export const CHAIN_ZERO = '0'.repeat(64);

/** The chain behind a line: what the next one carries. `line` with its line end. */
export const nextLink = (before: string, line: Uint8Array): string =>
  createHash('sha256').update(before, 'latin1').update(line).digest('hex');

export type ChainRead = {
  /** Whole lines. */
  readonly entries: number;
  /** Behind the last of them. */
  readonly head: string;
  /** First lines that carry no chain: written by an older program. */
  readonly unchained: number;
  /** The first line that does not follow from those before it; null = all do. */
  readonly broken: { readonly seq: number; readonly file: string; readonly line: number } | null;
  /** The chain behind the entries that were asked for. */
  readonly heads: ReadonlyMap<number, string>;
};

/** Reads the whole chain of a run's log, one segment at a time; `wanted`: entries behind which the head is asked for. */
export const readChain = (folder: string, wanted: ReadonlySet<number> = new Set()): Result<ChainRead> => {
  const segments = segmentsOf(folder);
  if (!segments.ok) return segments;
  let head = CHAIN_ZERO;
  let entries = 0;
  let unchained = 0;
  let broken: ChainRead['broken'] = null;
  const heads = new Map<number, string>();
  for (const file of segments.value) {
    const bytes = read(file);
    if (!bytes.ok) return bytes;
    let line = 0;
    for (
      let start = 0, end = bytes.value.indexOf(NEWLINE);
      end >= 0;
      start = end + 1, end = bytes.value.indexOf(NEWLINE, start)
    ) {
      const frame = bytes.value.subarray(start, end + 1);
      const carried = chainIn(frame);
      line += 1;
      entries += 1;
      if (carried === null && unchained === entries - 1) unchained = entries;
      else if (carried !== head && broken === null) broken = { seq: entries, file, line };
      head = nextLink(head, frame);
      if (wanted.has(entries)) heads.set(entries, head);
    }
  }
  return ok({ entries, head, unchained, broken, heads });
};

/** The head for whoever appends: of the last line alone where it carries a chain, of the whole log where it does not. */
export const headForAppend = (folder: string): Result<string> => {
  const segments = segmentsOf(folder);
  if (!segments.ok) return segments;
  for (const file of segments.value.toReversed()) {
    const bytes = read(file);
    if (!bytes.ok) return bytes;
    const end = bytes.value.lastIndexOf(NEWLINE);
    if (end < 0) continue;
    const start = end === 0 ? 0 : bytes.value.lastIndexOf(NEWLINE, end - 1) + 1;
    const frame = bytes.value.subarray(start, end + 1);
    const carried = chainIn(frame);
    if (carried !== null) return ok(nextLink(carried, frame));
    const all = readChain(folder);
    return all.ok ? ok(all.value.head) : all;
  }
  return ok(CHAIN_ZERO);
};

/** What a seal or a printed handover says of a log, held against it: why it is not the same log, in words; null = it is. */
export const chainRefusal = (
  chain: ChainRead,
  said: { readonly entries: number; readonly head: string },
): string | null => {
  if (said.entries > chain.entries)
    return `it was sealed with ${said.entries} entries and has only ${chain.entries}: entries were taken away`;
  const head = said.entries === chain.entries ? chain.head : chain.heads.get(said.entries);
  return head === said.head ? null : `its first ${said.entries} entries are not those that were sealed`;
};

const NEWLINE = 0x0a;
const CARRIED = /^\{"crc":"[0-9a-f]{8}","chain":"([0-9a-f]{64})",/;

const chainIn = (frame: Buffer): string | null => CARRIED.exec(frame.toString('latin1', 0, 120))?.[1] ?? null;

const read = (file: string): Result<Buffer> => {
  try {
    const bytes = readFileSync(file);
    return bytes.length > LARGEST ? fail(`${file} is larger than any segment of ours`, file) : ok(bytes);
  } catch (error) {
    return diskProblem(error, 'read', file);
  }
};

const LARGEST = 1 << 30;
