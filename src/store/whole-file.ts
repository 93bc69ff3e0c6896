import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';

/** Whether the bytes are on the disk itself when the call returns. Not worth waiting for where losing the file costs only time. */
export type Durability = 'synced' | 'unsynced';

/** A file that must not be there yet, to its last byte, owner only. Throws the system's error. */
export const writeNew = (path: string, text: string, durability: Durability): void => {
  const fd = openSync(path, 'wx', 0o600);
  try {
    const bytes = Buffer.from(text);
    for (let from = 0; from < bytes.length; ) from += writeSync(fd, bytes, from);
    if (durability === 'synced') fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
};

/** A file replaced whole: written at `beside` (same folder), then renamed, so that a power cut leaves the old one. Throws the system's error. */
export const replaceWhole = (path: string, beside: string, text: string, durability: Durability): void => {
  rmSync(beside, { force: true });
  writeNew(beside, text, durability);
  renameSync(beside, path);
};
