import { rmSync } from 'node:fs';
import { basename } from 'node:path';
import type { z } from 'zod';
import { jsonWithCodes } from '../core/hidden-characters.js';
import type { LogRecord } from '../core/record.js';
import type { Seal } from '../report/seal-schema.js';
import type { verifySchema } from '../report/verify-schema.js';
import { checkCheckpoint } from '../runtime/check-checkpoint.js';
import { foldRecords } from '../runtime/fold-records.js';
import { diskProblem } from '../store/disk-problem.js';
import { isBegun } from '../store/is-begun.js';
import { takeLock } from '../store/lock.js';
import { readLog } from '../store/read-log.js';
import { chainRefusal, readChain } from '../store/record-chain.js';
import { repairTail } from '../store/repair.js';
import { runFolder, runsOf } from '../store/run-folder.js';
import { stagedLeft } from '../store/stage-run.js';
import { BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { codeFor } from './problem-code.js';
import { readSeal } from './seal.js';

type Verified = Omit<z.infer<typeof verifySchema>, 'run'>;

/**
 * Checks the log of one run or of all: every line's number, check sum and link to all lines before it, every signed handover's page, and a
 * seal when one is given. A torn tail is repaired, a wrong checkpoint thrown away, anything else is only told.
 */
export const verify = async (
  options: { readonly data: string; readonly run?: string; readonly seal?: string; readonly json?: boolean },
  io: Io,
): Promise<Exit> => {
  const seal = options.seal === undefined ? null : readSeal(options.seal);
  if (seal !== null && !seal.ok) return refuse(io, seal.problem.message, BAD);
  if (seal !== null && options.run !== undefined && options.run !== seal.value.run)
    return refuse(io, `${options.seal} seals run ${seal.value.run}, not ${options.run}`, BAD);
  const one = options.run ?? seal?.value.run;
  const ids = one === undefined ? runsOf(options.data) : { ok: true as const, value: [one] };
  if (!ids.ok) return refuse(io, ids.problem.message, MACHINE);
  let worst: Exit = OK;
  for (const id of ids.value) {
    const folder = runFolder(options.data, id);
    if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
    const said = verifyOne(folder.value, seal?.value ?? null);
    if (said.state === 'damaged' || said.state === 'altered') worst = NO;
    io.out(options.json === true ? `${jsonWithCodes({ run: id, ...said })}\n` : `${id}: ${said.words}\n`);
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
    return 'left by a start or an import that ended before its run was there; it was taken away';
  } catch (error) {
    return diskProblem(error, 'take away', folder).problem.message;
  }
};

type Sealed = { readonly what: string; readonly entries: number; readonly head: string };

const verifyOne = (folder: string, seal: Seal | null): Verified => {
  if (!isBegun(folder))
    return {
      state: 'empty',
      records: 0,
      head: null,
      words:
        'no run: there is no entry in this folder, as after a start that was cut short. If a run was ever keyed in it, bring its files back from a backup; else it may be deleted',
    };
  let records = 0;
  const fold = folding(folder);
  const sealed: Sealed[] = seal === null ? [] : [{ what: 'the seal', ...seal }];
  const end = readLog(folder, (record) => {
    records += 1;
    fold.take(record);
    if (record.type === 'shift' && record.page !== undefined)
      sealed.push({ what: `handover ${record.page.number}`, entries: record.page.entries, head: record.page.head });
  });
  if (!end.ok) return { state: 'damaged', records, head: null, words: end.problem.message };
  const unfit = fold.wrong();
  if (unfit !== null) return { state: 'damaged', records, head: null, words: unfit };
  if (end.value.torn !== null) return torn(folder, end.value.torn, records);
  return chained(folder, records, sealed);
};

/** The links between the lines, then what was sealed or signed of them. */
const chained = (folder: string, records: number, sealed: readonly Sealed[]): Verified => {
  const read = readChain(folder, new Set(sealed.map(({ entries }) => entries)));
  if (!read.ok) return { state: 'damaged', records, head: null, words: read.problem.message };
  const { head, broken, unchained } = read.value;
  if (broken !== null)
    return {
      state: 'altered',
      records,
      head,
      words: `ALTERED: entry ${broken.seq} (${basename(broken.file)}, line ${broken.line}) does not follow from the entries before it: one of them was changed after it was written, the latest that can have been is entry ${broken.seq - 1}. Nothing was changed; compare it with a backup`,
    };
  for (const { what, ...said } of sealed) {
    const why = chainRefusal(read.value, said);
    if (why !== null) return { state: 'altered', records, head, words: `ALTERED: against ${what}, ${why}` };
  }
  const checkpoint = checkCheckpoint(folder);
  const also = checkpoint.ok && checkpoint.value !== null ? `; ${checkpoint.value}` : '';
  const old = unchained === 0 ? '' : `; the first ${unchained} were written before entries were chained`;
  const proved = sealed.length === 0 ? '' : `; fits ${sealed.map(({ what }) => what).join(', ')}`;
  return { state: 'whole', records, head, words: `whole, ${records} entries, chain ${head}${old}${proved}${also}` };
};

const torn = (folder: string, tail: Parameters<typeof repairTail>[0], records: number): Verified => {
  const lock = takeLock(folder, new Date());
  if (!lock.ok || lock.value.held)
    return {
      state: 'torn',
      records,
      head: null,
      words: `the last line of ${basename(tail.file)} has no end; the run is in use, so it was left`,
    };
  try {
    return repairHeld(folder);
  } finally {
    lock.value.release();
  }
};

/** Lines may all be whole and still tell nothing that can be opened: what is called whole was judged to its end. */
const folding = (folder: string): { take: (record: LogRecord) => void; wrong: () => string | null } => {
  const fold = foldRecords(folder);
  let wrong: string | null = null;
  return {
    take: (record) => {
      if (wrong !== null || fold.broken() !== null) return;
      try {
        fold.take(record);
      } catch (error) {
        wrong = `every line is whole, but entry ${record.seq} cannot be judged (${error instanceof Error ? error.message : String(error)}). Nothing was changed`;
      }
    },
    wrong: () => wrong ?? fold.broken(),
  };
};

/** What was read before the run was held may have been finished by whoever held it: it is read again, and only what is torn still is cut off. */
const repairHeld = (folder: string): Verified => {
  let records = 0;
  const end = readLog(folder, () => {
    records += 1;
  });
  if (!end.ok) return { state: 'damaged', records, head: null, words: end.problem.message };
  if (end.value.torn === null) return chained(folder, records, []);
  const repaired = repairTail(end.value.torn);
  if (!repaired.ok) return { state: 'damaged', records, head: null, words: repaired.problem.message };
  const after = chained(folder, records, []);
  return after.state === 'whole'
    ? { ...after, state: 'repaired', words: `${records} entries; ${repaired.value}` }
    : after;
};
