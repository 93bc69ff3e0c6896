import {
  closeSync,
  constants,
  fdatasync,
  fdatasyncSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  lstatSync,
  openSync,
  readSync,
  writeSync,
} from 'node:fs';

/** What the run log asks of the disk; tests put a faulty one in its place. All throw as node:fs does. */
export type Disk = {
  /** Opens a segment for appending, owner only; `create` refuses one that is already there. */
  open(path: string, create: boolean): number;
  /** May write less than asked, as a full disk does; says how much. */
  write(fd: number, bytes: Buffer, from: number): number;
  sync(fd: number, done: (error: Error | null) => void): void;
  syncNow(fd: number): void;
  truncate(fd: number, length: number): void;
  stat(fd: number): { readonly size: number; readonly links: number; readonly file: string };
  /** Which file stands at a path now, in the same words as `stat`; null = none. */
  fileAt(path: string): string | null;
  /** The bytes of a file before `end`, at most `length` of them. */
  before(path: string, end: number, length: number): Buffer;
  close(fd: number): void;
  /** Makes names in a folder durable. */
  syncFolder(path: string): void;
};

export const realDisk: Disk = {
  open(path, create) {
    const how = constants.O_WRONLY | constants.O_APPEND | (constants.O_NOFOLLOW ?? 0);
    return openSync(path, create ? how | constants.O_CREAT | constants.O_EXCL : how, 0o600);
  },
  write(fd, bytes, from) {
    return writeSync(fd, bytes, from, bytes.length - from);
  },
  sync(fd, done) {
    fdatasync(fd, done);
  },
  syncNow(fd) {
    fdatasyncSync(fd);
  },
  truncate(fd, length) {
    ftruncateSync(fd, length);
  },
  stat(fd) {
    const { size, nlink, dev, ino } = fstatSync(fd);
    return { size, links: nlink, file: `${dev} ${ino}` };
  },
  fileAt(path) {
    const found = lstatSync(path, { throwIfNoEntry: false });
    return found === undefined ? null : `${found.dev} ${found.ino}`;
  },
  before(path, end, length) {
    const from = Math.max(0, end - length);
    const bytes = Buffer.alloc(end - from);
    const fd = openSync(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
    try {
      return bytes.subarray(0, readSync(fd, bytes, 0, bytes.length, from));
    } finally {
      closeSync(fd);
    }
  },
  close(fd) {
    closeSync(fd);
  },
  syncFolder(path) {
    // Windows has no such thing.
    if (process.platform === 'win32') return;
    const fd = openSync(path, constants.O_RDONLY);
    try {
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
  },
};
