import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { LogRecord } from '../core/record.js';
import { ok, type Result } from '../core/result.js';
import { realDisk } from './disk.js';
import { diskProblem, tookNothing } from './disk-problem.js';
import { encodeChained } from './frame.js';
import type { LogPlace } from './read-log.js';
import { headForAppend, nextLink } from './record-chain.js';
import { segmentName } from './segments.js';

/**
 * Many records as the next segment of a log, all of them or none: written beside, synced, and given its name by one rename. Only for who holds the run's
 * lock. Answers with the place behind the last record.
 */
export const writeSegment = (folder: string, number: number, records: readonly LogRecord[]): Result<LogPlace> => {
  const head = headForAppend(folder);
  if (!head.ok) return head;
  let chain = head.value;
  const chained = (record: LogRecord): Buffer => {
    const frame = encodeChained(record, chain);
    chain = nextLink(chain, frame);
    return frame;
  };
  const path = join(folder, segmentName(number));
  const beside = `${path}.new`;
  try {
    rmSync(beside, { force: true });
    const fd = openSync(beside, 'wx', 0o600);
    let offset = 0;
    try {
      for (let from = 0; from < records.length; from += BATCH) {
        const bytes = Buffer.concat(records.slice(from, from + BATCH).map(chained));
        for (let at = 0; at < bytes.length; ) {
          const wrote = writeSync(fd, bytes, at);
          if (wrote <= 0) return dropped(beside, tookNothing(path));
          at += wrote;
        }
        offset += bytes.length;
      }
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
    renameSync(beside, path);
    realDisk.syncFolder(folder);
    return ok({ segment: number, offset, line: records.length, seq: records.at(-1)?.seq ?? 0 });
  } catch (error) {
    return dropped(beside, diskProblem(error, 'write', path));
  }
};

const BATCH = 512;

const dropped = <T>(beside: string, result: T): T => {
  try {
    rmSync(beside, { force: true });
  } catch {
    // A name that no log has: it is in nobody's way, and is written over the next time.
  }
  return result;
};
