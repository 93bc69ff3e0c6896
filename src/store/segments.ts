import { lstatSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fail, ok, type Result } from '../core/result.js';
import { diskProblem } from './disk-problem.js';

/** The log segments of a run folder in order; refused when one is missing or is not a plain file. */
export const segmentsOf = (folder: string): Result<readonly string[]> => {
  try {
    const numbers = readdirSync(folder)
      .map((name) => /^log-(\d{4,7})\.ndjson$/.exec(name)?.[1])
      .filter((digits) => digits !== undefined)
      .map(Number)
      .toSorted((a, b) => a - b);
    const gap = numbers.findIndex((number, index) => number !== index + 1);
    if (gap >= 0)
      return fail(
        `${join(folder, segmentName(gap + 1))} is missing; restore it from a backup. Nothing was changed`,
        folder,
      );
    const files = numbers.map((number) => join(folder, segmentName(number)));
    const odd = files.find((file) => !lstatSync(file).isFile());
    return odd === undefined
      ? ok(files)
      : fail(`${odd} is not a plain file; links are not followed here. Nothing was changed`, odd);
  } catch (error) {
    return diskProblem(error, 'read', folder);
  }
};

/** `log-0001.ndjson` */
export const segmentName = (number: number): string => `log-${String(number).padStart(4, '0')}.ndjson`;
