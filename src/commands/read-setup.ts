import { readFileSync } from 'node:fs';
import type { Job } from '../core/job.js';
import { readJob } from '../core/job-file.js';
import type { Press } from '../core/press.js';
import { readPress } from '../core/press-file.js';
import { fail, ok, type Result } from '../core/result.js';

/** A press and a job from their files, or the first thing wrong with either. */
export const readSetup = (pressFile: string, jobFile: string): Result<{ readonly press: Press; readonly job: Job }> => {
  const pressText = readText(pressFile);
  if (!pressText.ok) return pressText;
  const press = readPress(pressText.value, pressFile);
  if (!press.ok) return press;
  const jobText = readText(jobFile);
  if (!jobText.ok) return jobText;
  const job = readJob(jobText.value, jobFile, press.value);
  return job.ok ? ok({ press: press.value, job: job.value }) : job;
};

/** A text file, or why it cannot be read. */
export const readText = (file: string): Result<string> => {
  try {
    return ok(readFileSync(file, 'utf8'));
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'it is a folder'
          : code === 'EACCES'
            ? 'it may not be read by you'
            : code;
    return fail(`cannot read ${file}: ${why}`, file);
  }
};
