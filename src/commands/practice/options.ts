import { quoted, visible } from '../../core/quoted.js';
import { fail, ok, type Result } from '../../core/result.js';
import type { Exercise } from '../../practice/exercise.js';
import { lesson } from '../../practice/exercises.js';
import { readFault } from '../../practice/fault-file.js';
import { freeRun } from '../../practice/free-run.js';
import { readText } from '../read-setup.js';

export type PracticeOptions = {
  readonly data: string;
  readonly lesson: string;
  readonly seed: string;
  readonly fault?: string;
  readonly numbers?: boolean;
  readonly hints: boolean;
  readonly pace: string;
  readonly student: string;
  readonly results?: string;
  readonly format: string;
  readonly table?: boolean;
  readonly ascii?: boolean;
};

/** What is played, by whom, and how fast, once every option was found good. */
export type PracticeStart = {
  readonly exercise: Exercise;
  readonly student: string;
  readonly pace: number;
  readonly format: PageFormat;
};

export const PAGE_FORMATS = ['md', 'html', 'json', 'txt'] as const;
export type PageFormat = (typeof PAGE_FORMATS)[number];

const MOST_SEED = 1_000_000;
const MOST_PACE = 1000;

/** Checks the options one by one; the first that is wrong is told. */
export const startOf = (options: PracticeOptions): Result<PracticeStart> => {
  const seed = Number(options.seed);
  if (!Number.isInteger(seed) || seed < 0 || seed > MOST_SEED)
    return fail(`--seed ${quoted(options.seed)} is not a whole number from 0 to ${MOST_SEED}`);
  const pace = Number(options.pace);
  if (!(pace >= 0 && pace <= MOST_PACE))
    return fail(`--pace ${quoted(options.pace)} is not a number from 0 to ${MOST_PACE}`);
  const format = PAGE_FORMATS.find((one) => one === options.format);
  if (format === undefined) return fail(`--format ${quoted(options.format)} is none of ${PAGE_FORMATS.join(', ')}`);
  const student = visible(options.student.trim()).slice(0, 60);
  if (student === '') return fail('--student needs a name');
  const exercise = exerciseOf(options, seed);
  return exercise.ok ? ok({ exercise: exercise.value, student, pace, format }) : exercise;
};

const exerciseOf = (options: PracticeOptions, seed: number): Result<Exercise> => {
  if (options.fault !== undefined) {
    const text = readText(options.fault);
    return text.ok ? readFault(text.value, options.fault, seed) : text;
  }
  if (options.lesson === 'free') return ok(freeRun(seed));
  const found = lesson(options.lesson, seed);
  return found === null ? fail(`--lesson ${quoted(options.lesson)} is none of 1, 2, 3, 4, 5, 6, free`) : ok(found);
};
