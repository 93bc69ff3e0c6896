import {
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  fsyncSync,
  ftruncateSync,
  lstatSync,
  openSync,
  writeSync,
} from 'node:fs';
import { basename, dirname } from 'node:path';
import { fail, ok, type Result } from '../core/result.js';
import { realDisk } from './disk.js';
import { diskProblem } from './disk-problem.js';
import type { TornTail } from './read-log.js';

/**
 * Makes the last segment sound again after power failed in a write: the segment is copied beside itself as it was found (`….torn-1`), then the torn
 * bytes are cut off, or the line end is added when that is all that is wanting. Says what it did, for the operator. Only for who holds the
 * run's lock, with a tail that was read under it: otherwise what another writes meanwhile would be cut off.
 */
export const repairTail = ({ file, offset, bytes, whole }: TornTail): Result<string> => {
  try {
    // Whoever had it open when it was read may have finished the line since, and have written more behind it.
    const { size } = lstatSync(file);
    if (size !== offset + bytes)
      return fail(
        `${file} was written to meanwhile (${offset + bytes} bytes read, ${size} found), so nothing was cut off; try again`,
        file,
      );
    const copy = freeName(file);
    copyFileSync(file, copy, constants.COPYFILE_EXCL | constants.COPYFILE_FICLONE);
    sync(copy, () => undefined);
    realDisk.syncFolder(dirname(file));
    sync(file, (fd) => (whole ? writeSync(fd, '\n', offset + bytes) : ftruncateSync(fd, offset)));
    // Whether an entry was ever told as taken from these bytes cannot be seen in them: a damaged disk leaves the same.
    const did = whole
      ? 'its entry is whole, and the line end was added'
      : `its ${bytes} bytes are no whole entry and were cut off; look whether the last thing keyed is there`;
    return ok(
      `the last line has no end, as after a power cut or a crash; ${did}. The file as found is kept as ${basename(copy)}`,
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
