import { statSync } from 'node:fs';
import { ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';
import { segmentsOf } from './segments.js';

/** Bytes of a run's log, without reading it: a log only ever grows, so the same length is the same log. */
export const logSize = (folder: string): Result<number> => {
  const segments = segmentsOf(folder);
  if (!segments.ok) return segments;
  try {
    return ok(segments.value.reduce((sum, file) => sum + statSync(file).size, 0));
  } catch (error) {
    return diskProblem(error, 'read', folder);
  }
};
