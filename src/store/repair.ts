import { closeSync, constants, copyFileSync, existsSync, fsyncSync, ftruncateSync, openSync, writeSync } from 'node:fs';
import { basename } from 'node:path';
import { ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';
import type { TornTail } from './read-log.js';

/**
 * Makes the last segment sound again after power failed in a write: the segment is copied beside itself as it was found (`….torn-1`), then the torn
 * bytes are cut off, or the line end is added when that is all that is wanting. Says what it did, for the operator.
 */
export const repairTail = ({ file, offset, bytes, whole }: TornTail): Result<string> => {
  try {
    const copy = freeName(file);
    copyFileSync(file, copy, constants.COPYFILE_EXCL | constants.COPYFILE_FICLONE);
    sync(copy, () => undefined);
    sync(file, (fd) => (whole ? writeSync(fd, '\n', offset + bytes) : ftruncateSync(fd, offset)));
    const did = whole
      ? 'the line end of its last entry was added'
      : `${bytes} bytes of an entry that was never taken were cut off`;
    return ok(
      `${file}: the last write was cut short (power or a crash); ${did}. The file as found is kept as ${basename(copy)}`,
    );
  } catch (error) {
    return diskProblem(error, 'repair', file);
  }
};

const freeName = (file: string): string => {
  for (let number = 1; ; number += 1) if (!existsSync(`${file}.torn-${number}`)) return `${file}.torn-${number}`;
};

const sync = (file: string, change: (fd: number) => void): void => {
  const fd = openSync(file, constants.O_RDWR | (constants.O_NOFOLLOW ?? 0));
  try {
    change(fd);
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
};
