import {
  appendFileSync,
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { ok, type Result } from '../../core/result.js';
import { RESULTS_HEADER } from '../../practice/results-row.js';
import { diskProblem } from '../../store/disk-problem.js';

/** Where a student's game is kept: a folder of its own, never the runs'. */
export type PracticeFiles = {
  readonly results: string;
  /** Typed lines, as they come; a game is played again by feeding them in. */
  readonly game: string;
  readonly page: string;
  readonly note: (line: string) => Result<null>;
  readonly addResult: (row: string) => Result<null>;
  readonly writePage: (text: string) => Result<null>;
};

/** Makes the practice folder and tries the results file before anything is played, so that nothing is played for nothing. */
export const practiceFiles = (
  data: string,
  results: string | undefined,
  name: string,
  extension: string,
  head: string,
): Result<PracticeFiles> => {
  const folder = join(data, 'practice');
  const file = results ?? join(folder, 'results.csv');
  let doing: readonly [string, string] = ['make', folder];
  try {
    for (const part of ['games', 'pages']) mkdirSync(join(folder, part), { recursive: true, mode: 0o700 });
    doing = ['write to the results file', file];
    closeSync(openSync(file, 'a', 0o600));
    const free = freeName(folder, name, extension);
    const game = join(folder, 'games', `${free}.txt`);
    const page = join(folder, 'pages', `${free}.${extension}`);
    doing = ['write', game];
    writeFileSync(game, `${head}\n`, { mode: 0o600, flag: 'wx' });
    return ok({
      results: file,
      game,
      page,
      note: (line) => attempt('write', game, () => appendFileSync(game, `${line}\n`)),
      addResult: (row) => attempt('write to the results file', file, () => append(file, row)),
      writePage: (text) => attempt('write', page, () => writeFileSync(page, text, { mode: 0o600 })),
    });
  } catch (error) {
    return diskProblem(error, ...doing);
  }
};

/** One line at the end, on disk before it is said to be there; the header first in a new file. */
const append = (file: string, row: string): void => {
  const fd = openSync(file, 'a', 0o600);
  try {
    writeSync(fd, `${statSync(file).size === 0 ? `${RESULTS_HEADER}\n` : ''}${row}\n`);
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
};

const attempt = (doing: string, path: string, does: () => void): Result<null> => {
  try {
    does();
    return ok(null);
  } catch (error) {
    return diskProblem(error, doing, path);
  }
};

const freeName = (folder: string, name: string, extension: string): string => {
  const taken = (one: string): boolean =>
    existsSync(join(folder, 'games', `${one}.txt`)) || existsSync(join(folder, 'pages', `${one}.${extension}`));
  for (let n = 1; ; n += 1) {
    const one = n === 1 ? name : `${name}-${n}`;
    if (!taken(one)) return one;
  }
};
