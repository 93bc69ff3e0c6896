import { lstatSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';

/** Bytes of the log of a run of this data folder, without reading it: a log only ever grows, so the same length is the same log. 0 = it has none. */
export const logSize = (dataDir: string, run: string): Result<number> => {
  const folder = join(dataDir, 'runs', run);
  try {
    let bytes = 0;
    for (const name of readdirSync(folder))
      if (name.startsWith('log-') && name.endsWith('.ndjson')) bytes += lstatSync(`${folder}/${name}`).size;
    return ok(bytes);
  } catch (error) {
    return diskProblem(error, 'read', folder);
  }
};
