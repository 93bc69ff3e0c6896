import { isUtf8 } from 'node:buffer';
import { readFileSync, statSync } from 'node:fs';
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

/** A text file, or why it cannot be read. A pipe would be waited for without end, and bytes that are no UTF-8 would come in as other letters than were written. */
export const readText = (file: string): Result<string> => {
  try {
    const found = statSync(file);
    if (!found.isFile() && !found.isDirectory()) return fail(`cannot read ${file}: it is no plain file`, file);
    if (found.size > LARGEST)
      return fail(`cannot read ${file}: it is larger than ${LARGEST / 1e6} MB; no file of ours is`, file);
    const bytes = readFileSync(file);
    if (isUtf8(bytes)) return ok(bytes.toString('utf8'));
    return fail(`${file}: line ${firstBadLine(bytes)}: it is not UTF-8 text; save the file as UTF-8`, file);
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

const LARGEST = 500_000_000;

/** A line end is never a part of another character, so each line can be held by itself. */
const firstBadLine = (bytes: Buffer): number => {
  let line = 1;
  for (let start = 0; start < bytes.length; line += 1) {
    const newline = bytes.indexOf(0x0a, start);
    const end = newline < 0 ? bytes.length : newline;
    if (!isUtf8(bytes.subarray(start, end))) return line;
    start = end + 1;
  }
  return line;
};
