import { basename } from 'node:path';
import { checkCheckpoint } from '../runtime/check-checkpoint.js';
import { takeLock } from '../store/lock.js';
import { readLog } from '../store/read-log.js';
import { repairTail } from '../store/repair.js';
import { runFolder, runsOf } from '../store/run-folder.js';
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
  if (ids.value.length === 0) io.out(options.json === true ? '' : `no runs in ${options.data}\n`);
  return worst;
};

type Verified = {
  readonly state: 'whole' | 'repaired' | 'torn' | 'damaged';
  readonly records: number;
  readonly words: string;
};

const verifyOne = (folder: string): Verified => {
  let records = 0;
  const end = readLog(folder, () => {
    records += 1;
  });
  if (!end.ok) return { state: 'damaged', records, words: end.problem.message };
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
  const repaired = repairTail(end.value.torn);
  lock.value.release();
  return repaired.ok
    ? { state: 'repaired', records, words: `${records} entries; ${repaired.value}` }
    : { state: 'damaged', records, words: repaired.problem.message };
};
