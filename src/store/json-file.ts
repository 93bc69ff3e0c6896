import {
  closeSync,
  existsSync,
  fsyncSync,
  lstatSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';
import type { Adapter } from 'lowdb';
import { realDisk } from './disk.js';

/**
 * A lowdb adapter that never leaves half a file: written beside, synced, then renamed into place, owner only. lowdb's own does not sync. Reads the
 * text as it stands; what it means is judged by whoever asked.
 */
export const jsonFile = (path: string): Adapter<unknown> => ({
  read: async () => {
    if (!existsSync(path)) return null;
    if (!lstatSync(path).isFile()) throw Object.assign(new Error(path), { code: 'ELOOP' });
    return JSON.parse(readFileSync(path, 'utf8'));
  },
  write: async (data) => {
    const beside = `${path}.${process.pid}.new`;
    rmSync(beside, { force: true });
    const fd = openSync(beside, 'wx', 0o600);
    try {
      writeSync(fd, `${JSON.stringify(data, null, 2)}\n`);
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
    renameSync(beside, path);
    realDisk.syncFolder(dirname(path));
  },
});
