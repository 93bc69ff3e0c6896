import { isUtf8 } from 'node:buffer';
import { readFileSync, statSync } from 'node:fs';
import type { Job } from '../core/job.js';
import { readJob } from '../core/job-file.js';
import type { Press } from '../core/press.js';
import { readPress } from '../core/press-file.js';
import { fail, ok, type Result } from '../core/result.js';
import { codeOf, diskProblem } from '../store/disk-problem.js';

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

/**
 * A text file, or why it cannot be read. A pipe would be waited for without end, and bytes that are no UTF-8 would come in as other letters than were
 * written. `largest`: bytes; no file of its kind is larger.
 */
export const readText = (file: string, largest: number = LARGEST_SET_UP): Result<string> => {
  try {
    const found = statSync(file);
    if (!found.isFile() && !found.isDirectory()) return fail(`cannot read ${file}: it is no plain file`, file);
    if (found.size > largest)
      return fail(
        `cannot read ${file}: it is ${Math.ceil(found.size / 1e6)} MB large, and no such file is larger than ${largest / 1e6} MB; is it the right file?`,
        file,
      );
    const bytes = readFileSync(file);
    if (isUtf8(bytes)) return ok(bytes.toString('utf8'));
    return fail(`${file}: line ${firstBadLine(bytes)}: it is not UTF-8 text; save the file as UTF-8`, file);
  } catch (error) {
    const code = codeOf(error);
    const why = code === null ? undefined : UNREADABLE[code];
    return why === undefined ? diskProblem(error, 'read', file) : fail(`cannot read ${file}: ${why}`, file);
  }
};

const UNREADABLE: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
  EACCES: 'it may not be read by you',
};

/** A press of forty stations is some ten thousand bytes. */
const LARGEST_SET_UP = 1_000_000;
/** Readings of a whole year. */
export const LARGEST_READINGS = 500_000_000;

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
