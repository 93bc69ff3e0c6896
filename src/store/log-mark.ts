import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from './disk-problem.js';
import { segmentName, segmentsOf } from './segments.js';

/** How far a run's log went: a log only ever grows, and only in its last segment, so the same mark is the same log. */
export type LogMark = { readonly segments: number; readonly last_bytes: number };

/** Where the log of a run folder stands now, without reading it. */
export const logMark = (folder: string): Result<LogMark> => {
  const segments = segmentsOf(folder);
  if (!segments.ok) return segments;
  const last = segments.value.at(-1);
  try {
    return ok({ segments: segments.value.length, last_bytes: last === undefined ? 0 : statSync(last).size });
  } catch (error) {
    return diskProblem(error, 'read', folder);
  }
};

/** Whether the log of a run still stands where it stood; two looks at the disk, for there may be hundreds of runs. */
export const standsAt = (dataDir: string, run: string, { segments, last_bytes }: LogMark): boolean => {
  const folder = join(dataDir, 'runs', run);
  try {
    return (
      statSync(`${folder}/${segmentName(segments)}`).size === last_bytes &&
      !existsSync(`${folder}/${segmentName(segments + 1)}`)
    );
  } catch (error) {
    if (codeOf(error) === null) throw error;
    return false;
  }
};
