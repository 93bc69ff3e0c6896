import { rmSync } from 'node:fs';
import { basename } from 'node:path';
import type { LogRecord } from '../core/record.js';
import { begin } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { checkCheckpoint } from '../runtime/check-checkpoint.js';
import { takeRecord } from '../runtime/take-record.js';
import { diskProblem } from '../store/disk-problem.js';
import { isBegun } from '../store/is-begun.js';
import { takeLock } from '../store/lock.js';
import { readLog } from '../store/read-log.js';
import { repairTail } from '../store/repair.js';
import { runFolder, runsOf } from '../store/run-folder.js';
import { stagedLeft } from '../store/stage-run.js';
import { type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { codeFor } from './problem-code.js';

/** Checks the log of one run or of all: every line's number and check sum; a torn tail is repaired, a wrong checkpoint thrown away, anything else is only told. */
export const verify = async (
  options: { readonly data: string; readonly run?: string; readonly json?: boolean },
  io: Io,
): Promise<Exit> => {
  const ids = options.run === undefined ? runsOf(options.data) : { ok: true as const, value: [options.run] };
  if (!ids.ok) return refuse(io, ids.problem.message, MACHINE);
  let worst: Exit = OK;
  for (const id of ids.value) {
    const folder = runFolder(options.data, id);
    if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
    const said = verifyOne(folder.value);
    if (said.state === 'damaged') worst = NO;
    io.out(options.json === true ? `${JSON.stringify({ run: id, ...said })}\n` : `${id}: ${said.words}\n`);
  }
  for (const left of options.run === undefined ? stagedLeft(options.data) : []) {
    const words = dropLeft(left);
    if (options.json !== true) io.out(`${basename(left)}: ${words}\n`);
  }
  if (ids.value.length === 0) io.out(options.json === true ? '' : `no runs in ${options.data}\n`);
  return worst;
};

/** What a start or an import that was killed left beside the runs; the lock in it tells whether it is still at work. */
const dropLeft = (folder: string): string => {
  const lock = takeLock(folder, new Date());
  if (!lock.ok) return lock.problem.message;
  if (lock.value.held) return 'a run that is just being made; it was left';
  try {
    rmSync(folder, { recursive: true, force: true });
    return 'left by a start or an import that was cut short; nothing in it was taken, and it was taken away';
  } catch (error) {
    return diskProblem(error, 'take away', folder).problem.message;
  }
};

type Verified = {
  readonly state: 'whole' | 'empty' | 'repaired' | 'torn' | 'damaged';
  readonly records: number;
  readonly words: string;
};

const verifyOne = (folder: string): Verified => {
  if (!isBegun(folder))
    return {
      state: 'empty',
      records: 0,
      words: 'no run: a start that was cut short left this folder; nothing in it was taken, and it may be deleted',
    };
  let records = 0;
  const fold = folding(folder);
  const end = readLog(folder, (record) => {
    records += 1;
    fold.take(record);
  });
  if (!end.ok) return { state: 'damaged', records, words: end.problem.message };
  const unfit = fold.wrong();
  if (unfit !== null) return { state: 'damaged', records, words: unfit };
  if (end.value.torn === null) {
    const checkpoint = checkCheckpoint(folder);
    const also = checkpoint.ok && checkpoint.value !== null ? `; ${checkpoint.value}` : '';
    return { state: 'whole', records, words: `whole, ${records} entries${also}` };
  }
  const lock = takeLock(folder, new Date());
  if (!lock.ok || lock.value.held)
    return {
      state: 'torn',
      records,
      words: `the last line of ${basename(end.value.torn.file)} is not finished; the run is in use, so it was left`,
    };
  try {
    return repairHeld(folder);
  } finally {
    lock.value.release();
  }
};

/** Lines may all be whole and still tell nothing that can be opened: what is called whole was judged to its end. */
const folding = (folder: string): { take: (record: LogRecord) => void; wrong: () => string | null } => {
  let state: RunState | null = null;
  let wrong: string | null = null;
  const judge = (record: LogRecord): void => {
    if (state !== null) state = takeRecord(folder, state, record).state;
    else {
      const begun = begin(record);
      if (begun.ok) state = begun.value;
      else wrong = begun.problem.message;
    }
  };
  return {
    take: (record) => {
      if (wrong !== null) return;
      try {
        judge(record);
      } catch (error) {
        wrong = `every line is whole, but entry ${record.seq} cannot be judged (${error instanceof Error ? error.message : String(error)}). Nothing was changed`;
      }
    },
    wrong: () => wrong,
  };
};

/** What was read before the run was held may have been finished by whoever held it: it is read again, and only what is torn still is cut off. */
const repairHeld = (folder: string): Verified => {
  let records = 0;
  const end = readLog(folder, () => {
    records += 1;
  });
  if (!end.ok) return { state: 'damaged', records, words: end.problem.message };
  if (end.value.torn === null) return { state: 'whole', records, words: `whole, ${records} entries` };
  const repaired = repairTail(end.value.torn);
  return repaired.ok
    ? { state: 'repaired', records, words: `${records} entries; ${repaired.value}` }
    : { state: 'damaged', records, words: repaired.problem.message };
};
