import { existsSync, lstatSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Adapter } from 'lowdb';
import { realDisk } from './disk.js';
import { replaceWhole } from './whole-file.js';

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
    replaceWhole(path, `${path}.${process.pid}.new`, `${JSON.stringify(data, null, 2)}\n`, 'synced');
    realDisk.syncFolder(dirname(path));
  },
});
