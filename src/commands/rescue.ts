import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { type LogRecord, RECORD_VERSION } from '../core/record.js';
import { foldRecords } from '../runtime/fold-records.js';
import { type Beyond, beyondDamage } from '../store/beyond-damage.js';
import { diskProblem } from '../store/disk-problem.js';
import { takeLock } from '../store/lock.js';
import { readLog } from '../store/read-log.js';
import { markRescued } from '../store/rescued.js';
import { runFolder } from '../store/run-folder.js';
import { stageRun } from '../store/stage-run.js';
import { writeSegment } from '../store/whole-segment.js';
import { BAD, type Exit, type Io, NO, OK, refuse } from './exit.js';
import { codeFor } from './problem-code.js';

export type RescueOptions = { readonly data: string; readonly as?: string };

/**
 * The way on from a damaged log: every entry before the first damage, as it stands, becomes a new run, with a note of what is missing. The damaged run is
 * not changed; it stays as evidence, and is in progress no more.
 */
export const rescue = async (run: string, options: RescueOptions, io: Io): Promise<Exit> => {
  const folder = runFolder(options.data, run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const lock = takeLock(folder.value, new Date());
  if (!lock.ok) return refuse(io, lock.problem.message, codeFor(lock.problem));
  if (lock.value.held) return refuse(io, `run ${run} is ${lock.value.message}; close it there first`, NO);
  try {
    return rescueHeld(folder.value, run, options, io);
  } finally {
    lock.value.release();
  }
};

const rescueHeld = (folder: string, run: string, options: RescueOptions, io: Io): Exit => {
  const records: LogRecord[] = [];
  const read = readLog(folder, (record) => records.push(record));
  if (read.ok) return refuse(io, `run ${run} is not damaged: there is nothing to rescue`, NO);
  const [first] = records;
  if (first?.type !== 'begin')
    return refuse(io, `${read.problem.message}\nThe damage is in the first entry: no run can be made of it`, NO);
  const id = options.as ?? freeName(options.data, run);
  const beyond = beyondDamage(folder, records.length);
  const missing = missingWords(run, records.length, beyond);
  const all: LogRecord[] = [
    { ...first, run: id },
    ...records.slice(1),
    {
      v: RECORD_VERSION,
      seq: records.length + 1,
      at: new Date().toISOString(),
      by: 'program',
      type: 'note',
      web_m: null,
      text: missing,
    },
  ];
  const staged = stageRun(options.data, id);
  if (!staged.ok) return refuse(io, staged.problem.message, codeFor(staged.problem));
  const wrote = writeSegment(staged.value.folder, 1, all);
  const judged = wrote.ok ? judge(staged.value.folder) : wrote.problem.message;
  const published = judged === null ? staged.value.publish() : null;
  if (published?.ok !== true) {
    staged.value.drop();
    return published === null
      ? refuse(io, judged ?? '', BAD)
      : refuse(io, published.problem.message, codeFor(published.problem));
  }
  try {
    markRescued(folder, id);
  } catch (error) {
    io.err(`holdreg: ${diskProblem(error, 'mark as rescued', folder).problem.message}\n`);
  }
  io.out(`Run ${id} holds the ${records.length} entries of run ${run} before its damage.\n${missing}\n`);
  io.out(`The damage: ${read.problem.message}\nRun ${run} was not changed and stays as evidence.\n`);
  return OK;
};

/** Folded as it will be opened; null = it can be. */
const judge = (folder: string): string | null => {
  const { take, broken } = foldRecords(folder);
  const read = readLog(folder, take);
  return read.ok ? broken() : read.problem.message;
};

const missingWords = (run: string, kept: number, { whole, broken, from, to }: Beyond): string =>
  [
    `Rescued from run ${run}, whose log is damaged: what was entered after entry ${kept} is missing here.`,
    `${broken === 1 ? 'One line' : `${broken} lines`} there cannot be read`,
    whole === 0
      ? 'and nothing whole stands behind.'
      : `and ${whole} whole ${whole === 1 ? 'entry stands' : 'entries stand'} behind, from ${from} to ${to}: look at them there, and key again what matters.`,
  ].join(' ');

const freeName = (data: string, run: string): string => {
  const base = `${run.slice(0, 50)}-rescued`;
  for (let number = 1; ; number += 1) {
    const id = number === 1 ? base : `${base}-${number}`;
    if (!existsSync(join(data, 'runs', id))) return id;
  }
};
