import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { FileRecord, FileRun } from '../core/readings/rows-to-records.js';
import type { RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { RULES } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { checkpoints } from '../runtime/checkpoints.js';
import { type FileEntry, type Folded, foldIn } from '../runtime/fold-in.js';
import { openState } from '../runtime/open-state.js';
import { isBegun } from '../store/is-begun.js';
import { takeLock } from '../store/lock.js';
import type { LogPlace } from '../store/read-log.js';
import { runFolder } from '../store/run-folder.js';
import { sameLog } from '../store/same-log.js';
import { type StagedRun, stageRun } from '../store/stage-run.js';
import { writeSegment } from '../store/whole-segment.js';
import { version } from '../version.js';

export type ImportOptions = {
  readonly data: string;
  readonly run?: string;
  readonly press?: string;
  readonly job?: string;
  readonly by?: string;
  readonly dryRun?: boolean;
  readonly json?: boolean;
};

/** Where one run of the file goes: into a run that is there, or into a new one; `whole`: the file holds all of its records. */
export type Target = {
  readonly id: string;
  readonly isNew: boolean;
  readonly whole: boolean;
  readonly state: RunState;
  readonly run: FileRun;
};

type Whose = Pick<ImportOptions, 'data' | 'by'>;

/**
 * Writes the runs of a file that was found good, all of it or nothing, whenever the program is killed. New runs are made beside the others and only then
 * given their names; what goes into a run that is there is one new segment of its log. Of a file with several runs whose import was killed between two names,
 * those that are there already, entry for entry, are passed over the next time. Without an `ok` row the file begins after OK to run.
 */
export const importRuns = (targets: readonly Target[], options: Whose, file: string): Result<null> => {
  const staged: StagedRun[] = [];
  const drop = <T>(result: T): T => {
    for (const one of staged) one.drop();
    return result;
  };
  for (const target of targets) {
    if (!target.isNew) {
      const wrote = intoRun(target, options);
      if (!wrote.ok) return drop(wrote);
      continue;
    }
    const made = makeRun(target, options, file);
    if (!made.ok) return drop(made);
    staged.push(made.value);
  }
  // Nothing has its name yet: whether each can have it is asked before the first gets it.
  const waiting: StagedRun[] = [];
  for (const [index, one] of staged.entries()) {
    const folder = join(options.data, 'runs', targets[index]?.id ?? '');
    if (!existsSync(folder) || !isBegun(folder)) waiting.push(one);
    else if (!sameLog(one.folder, folder))
      return drop(
        fail(
          `there is a run ${targets[index]?.id} already; to add to it say --run ${targets[index]?.id}, for a new one --run OTHER-NAME`,
        ),
      );
  }
  for (const one of waiting) {
    const published = one.publish();
    if (!published.ok) return drop(published);
  }
  return drop(ok(null));
};

const makeRun = ({ id, whole, state, run }: Target, options: Whose, file: string): Result<StagedRun> => {
  const timed = withTimes(run.records, run.records.find((r) => r.at !== null)?.at ?? iso(Date.now()));
  const { press, job, time_zone } = state;
  const first: RecordBody = {
    type: 'begin',
    run: id,
    press,
    job,
    rules: RULES,
    program: version(),
    time_zone,
    // As plain as it is printed. When it was read in is not said: the same file makes the same run.
    imported: { file },
  };
  const begun: FileEntry = { body: first, at: iso(Date.parse(timed[0]?.at ?? '')), by: 'program', line: 1 };
  const entries = [begun, ...entriesOf(whole ? timed : passedBefore(timed), options)];
  const staged = stageRun(options.data, id);
  if (!staged.ok) return staged;
  const { folder } = staged.value;
  const folded = foldIn(folder, null, entries);
  const wrote = folded.ok ? writeSegment(folder, 1, folded.value.records) : refused(folded.problem.message);
  if (folded.ok && wrote.ok) {
    keepState(folder, folded.value, wrote.value);
    return staged;
  }
  staged.value.drop();
  return wrote.ok ? refused('') : wrote;
};

const intoRun = ({ id, run }: Target, options: Whose): Result<null> => {
  const folder = runFolder(options.data, id);
  if (!folder.ok) return folder;
  const lock = takeLock(folder.value, new Date());
  if (!lock.ok) return lock;
  if (lock.value.held) return fail(`run ${id} is ${lock.value.message}; close it there first. Nothing was imported`);
  try {
    const opened = openState(folder.value, 'write');
    if (!opened.ok) return opened;
    const { log, state, place } = opened.value;
    log?.close();
    if (state === null) return fail(`${folder.value} holds no run: its log is empty`, folder.value);
    const folded = foldIn(folder.value, state, entriesOf(withTimes(run.records, iso(Date.now())), options));
    if (!folded.ok) return refused(folded.problem.message);
    const wrote = writeSegment(folder.value, place.segment + 1, folded.value.records);
    if (!wrote.ok) return wrote;
    keepState(folder.value, folded.value, wrote.value);
    return ok(null);
  } finally {
    lock.value.release();
  }
};

const refused = (why: string): Result<never> => fail(`${why} Nothing was imported.`.trim());

/** So that a long run opens at once the first time too. */
const keepState = (folder: string, { state }: Folded, place: LogPlace): void => {
  const kept = checkpoints(folder, null);
  kept.after(state, place);
  kept.last();
};

const entriesOf = (timed: readonly Timed[], options: Whose): readonly FileEntry[] =>
  timed.map(({ body, at, by, line }) => ({ body, at, by: by ?? options.by ?? 'file', line }));

type Timed = {
  readonly body: RecordBody;
  readonly at: string;
  readonly by: string | null;
  readonly line: number;
};

/** A row without a time has that of the row before it. */
const withTimes = (records: readonly FileRecord[], first: string): readonly Timed[] => {
  let at = first;
  return records.map((record) => {
    at = record.at ?? at;
    return { body: record.body, at, by: record.by, line: record.line };
  });
};

const passedBefore = (timed: readonly Timed[]): readonly Timed[] => {
  const first = timed[0];
  if (first === undefined || timed.some(({ body }) => body.type === 'ok')) return timed;
  const web_m = Math.min(0, 'web_m' in first.body ? (first.body.web_m ?? 0) : 0);
  const body: RecordBody = {
    type: 'ok',
    web_m,
    zero_m: null,
    passed_by: 'before the file',
    check: null,
    hold_to: 'aim',
  };
  return [{ body, at: first.at, by: 'program', line: first.line }, ...timed];
};

const iso = (ms: number): string => new Date(ms).toISOString();
