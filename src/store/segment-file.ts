import { join } from 'node:path';
import { ok, type Result } from '../core/result.js';
import type { Disk } from './disk.js';
import { diskProblem, tookNothing, writeProblem } from './disk-problem.js';
import { segmentName } from './segments.js';

/** The segment of a log that is being written. */
export type Segment = {
  readonly fd: number;
  readonly number: number;
  readonly path: string;
  readonly bytes: number;
  /** Which file that is, should another come to stand at its path. */
  readonly file: string;
};

/** So many last bytes tell our file from another of the same length: they hold the checksum and the time of its last line. */
export const TAIL = 512;

export const openSegment = (folder: string, number: number, create: boolean, disk: Disk): Result<Segment> => {
  const path = join(folder, segmentName(number));
  try {
    const fd = disk.open(path, create);
    if (create) disk.syncFolder(folder);
    const { size, file } = disk.stat(fd);
    return ok({ fd, number, path, bytes: size, file });
  } catch (error) {
    return diskProblem(error, 'open', path);
  }
};

/** What is known of the segment's end, and whether it may be opened anew now. */
export type Known = {
  readonly bytes: number;
  readonly tail: Buffer;
  /** A broken line is still to be cut off. */
  readonly mayBeLonger: boolean;
  /** Something written is not yet known to be on disk. */
  readonly busy: boolean;
};

/** The segment as it stands, and its length now. */
export type Found = { readonly segment: Segment; readonly size: number };

/**
 * The segment that stands at its path. When that is not the one we have open (its folder was taken away, its disk unplugged and plugged in again), it
 * is opened anew, if what stands there now is what we wrote, to the last bytes.
 */
export const segmentAtPlace = (folder: string, segment: Segment, known: Known, disk: Disk): Result<Found> => {
  const { path } = segment;
  try {
    const now = disk.fileAt(path);
    if (now === segment.file) {
      const { links, size } = disk.stat(segment.fd);
      if (links > 0) return ok({ segment, size });
    }
    if (now === null || known.busy)
      return notOurs(path, 'its folder is gone; put it back, or plug the disk in again, and it goes on by itself');
    const anew = openSegment(folder, segment.number, false, disk);
    if (!anew.ok) return anew;
    const { bytes } = anew.value;
    const fits = bytes === known.bytes || (known.mayBeLonger && bytes > known.bytes);
    if (fits && disk.before(path, known.bytes, TAIL).subarray(-known.tail.length).equals(known.tail))
      return ok({ segment: anew.value, size: bytes });
    disk.close(anew.value.fd);
    return notOurs(
      path,
      'it is not the file that was written here; put the right folder back, or end the program and run holdreg verify',
    );
  } catch (error) {
    return diskProblem(error, 'look at', path);
  }
};

/** Nobody else wrote to it. */
export const checkSize = ({ path }: Segment, size: number, expected: number): Result<null> =>
  size === expected
    ? ok(null)
    : notOurs(
        path,
        `it was changed by another program (${expected} bytes expected, ${size} found); end both and run holdreg verify`,
      );

const notOurs = (path: string, why: string): Result<never> => ({
  ok: false,
  problem: { message: `${path}: ${why}`, where: path, why, code: 'machine' },
});

/** A full disk takes a part without an error: written on until all is taken. */
export const writeWhole = (segment: Segment, frame: Buffer, disk: Disk): Result<null> => {
  try {
    for (let from = 0; from < frame.length; ) {
      const count = disk.write(segment.fd, frame, from);
      if (count <= 0) return tookNothing(segment.path);
      from += count;
    }
    return ok(null);
  } catch (error) {
    return writeProblem(error, 'write', segment.path);
  }
};

/** Of a disk that was pulled out nothing more can be had. */
export const closeQuietly = (fd: number, disk: Disk): void => {
  try {
    disk.close(fd);
  } catch {
    // There is nothing to be done about it.
  }
};
