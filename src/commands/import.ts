import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import { jsonWithCodes } from '../core/hidden-characters.js';
import type { Job } from '../core/job.js';
import type { Press } from '../core/press.js';
import type { RefusedRow } from '../core/readings/read-rows.js';
import type { FileRun } from '../core/readings/rows-to-records.js';
import { refusedByRun, surveyReadings } from '../core/readings/survey-readings.js';
import { surveyRecords } from '../core/readings/survey-records.js';
import type { LogRecord } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { begin, RULES } from '../core/run/begin.js';
import type { RunState } from '../core/run/state.js';
import { openState } from '../runtime/open-state.js';
import { isBegun } from '../store/is-begun.js';
import { readLog } from '../store/read-log.js';
import { freeRunId, runFolder } from '../store/run-folder.js';
import { version } from '../version.js';
import { BAD, type Exit, type Io, NO, OK, refuse } from './exit.js';
import type { ImportOptions, Target } from './import-run.js';
import { importRuns } from './import-run.js';
import { codeFor } from './problem-code.js';
import { LARGEST_READINGS, readSetup, readText } from './read-setup.js';

export type { ImportOptions, Target } from './import-run.js';

/** Readings of a CSV into a run, or the NDJSON of a whole run into a new one, all of the file or nothing; a dry run lists every row that would be refused, and why. */
export const importReadings = async (file: string, options: ImportOptions, io: Io): Promise<Exit> => {
  const text = readText(file, LARGEST_READINGS);
  if (!text.ok) return refuse(io, text.problem.message, codeFor(text.problem));
  const known = options.run === undefined ? null : knownRun(options.data, options.run);
  if (known !== null && !known.ok) return refuse(io, known.problem.message, codeFor(known.problem));
  const state = known?.value ?? null;
  const whole = /^\ufeff?\s*\{/.test(text.value);
  if (whole && state !== null)
    return refuse(
      io,
      `records are a whole run and go into a new one; run ${state.run} is there already: --run OTHER-NAME`,
      BAD,
    );
  const records = whole ? surveyRecords(text.value, file) : null;
  if (records !== null && !records.ok) return refuse(io, records.problem.message, BAD);
  const came = options.press === undefined && options.job === undefined ? records?.value.setup : undefined;
  const setup = whole && came !== undefined ? ok(came) : setupFor(state, options);
  if (!setup.ok)
    return records !== null && records.value.refused.length > 0
      ? refuse(io, `${file}: line ${records.value.refused[0]?.line}: ${records.value.refused[0]?.why}`, BAD)
      : refuse(io, setup.problem.message, codeFor(setup.problem));
  const survey = records ?? surveyReadings(text.value, file, setup.value);
  if (!survey.ok) return refuse(io, survey.problem.message, BAD);
  const targets = targetsOf(survey.value.runs, state, setup.value, { ...options, whole });
  if (!targets.ok) return refuse(io, targets.problem.message, BAD);
  const taken = state === null ? new Set<string>() : checksOf(options.data, state.run);
  const refused = [
    ...survey.value.refused,
    ...targets.value.flatMap((target) => refusedByRun(target.state, target.run.records, taken)),
  ].sort((a, b) => a.line - b.line);
  if (options.dryRun === true) return tellDryRun(file, targets.value, refused, options, io);
  const [first] = refused;
  if (first !== undefined)
    return refuse(
      io,
      `${file}: line ${first.line}: ${first.why}\n${refused.length === 1 ? 'One row is refused' : `${refused.length} rows are refused`}; nothing was imported. --dry-run lists them`,
      BAD,
    );
  const wrote = importRuns(targets.value, options, basename(file));
  if (!wrote.ok) return refuse(io, `${file}: ${wrote.problem.message}`, codeFor(wrote.problem));
  for (const target of targets.value) {
    const counts = { run: target.id, records: target.run.records.length, checks: checksIn(target.run) };
    io.out(
      options.json === true
        ? `${jsonWithCodes(counts)}\n`
        : `Run ${target.id}: ${counts.checks} checks and ${counts.records - counts.checks} other entries imported${target.isNew ? ' into a new run' : ''}.\n`,
    );
  }
  return OK;
};

type Setup = { readonly press: Press; readonly job: Job };

const setupFor = (state: RunState | null, options: ImportOptions): Result<Setup> => {
  if (state !== null) {
    if (options.press !== undefined || options.job !== undefined)
      return fail(`run ${state.run} is there and has its press and job; leave --press and --job away`);
    return ok({ press: state.press, job: state.job });
  }
  if (options.press === undefined || options.job === undefined)
    return fail(
      'a new run needs its press and job: holdreg import FILE.csv --press press.json --job job.json (into a run that is there: --run ID)',
    );
  return readSetup(options.press, options.job);
};

/** The state of a run that is there; null = there is none of that name yet. */
const knownRun = (data: string, run: string): Result<RunState | null> => {
  const folder = runFolder(data, run);
  if (!folder.ok) return folder.problem.code === 'no-such-run' ? ok(null) : folder;
  const opened = openState(folder.value, 'look');
  return opened.ok ? ok(opened.value.state) : opened;
};

const targetsOf = (
  runs: readonly FileRun[],
  state: RunState | null,
  setup: Setup,
  options: ImportOptions & { readonly whole: boolean },
): Result<readonly Target[]> => {
  if (options.run !== undefined && runs.length > 1)
    return fail(
      `the file holds ${runs.length} runs (${runs.map(({ run }) => run ?? 'without a name').join(', ')}); --run takes one. Leave it away and each becomes a run of its own name`,
    );
  const targets: Target[] = [];
  for (const run of runs.filter(({ records }) => records.length > 0)) {
    const id = options.run ?? run.run ?? freeRunId(options.data, dayOf(run));
    if (state !== null) targets.push({ id, isNew: false, whole: false, state, run });
    else {
      // Of several runs some may be there from an import that was killed: each is held against what the file says (import-run).
      const left = runs.filter(({ run: name }) => !isThere(options.data, name ?? '')).length;
      if (isThere(options.data, id) && (runs.length === 1 || left === 0))
        return fail(`there is a run ${id} already; to add to it say --run ${id}, for a new one --run OTHER-NAME`);
      const begun = newRun(id, setup, run);
      if (!begun.ok) return begun;
      targets.push({ id, isNew: true, whole: options.whole, state: begun.value, run });
    }
  }
  return ok(targets);
};

const isThere = (data: string, id: string): boolean => {
  const folder = join(data, 'runs', id);
  return id !== '' && existsSync(folder) && isBegun(folder);
};

const newRun = (id: string, { press, job }: Setup, run: FileRun): Result<RunState> => {
  const at = run.records.find((r) => r.at !== null)?.at ?? new Date().toISOString();
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const first = { type: 'begin', run: id, press, job, rules: RULES, program: version(), time_zone: zone } as const;
  return begin({ v: 1, seq: 1, at, by: 'program', ...first });
};

const dayOf = (run: FileRun): string =>
  (run.records.find((r) => r.at !== null)?.at ?? new Date().toISOString()).slice(0, 10);

const checksIn = ({ records }: FileRun): number => records.filter(({ body }) => body.type === 'check').length;

const checksOf = (data: string, run: string): ReadonlySet<string> => {
  const taken = new Set<string>();
  const folder = runFolder(data, run);
  if (folder.ok)
    readLog(folder.value, (record: LogRecord) => {
      if (record.type === 'check') taken.add(String(record.check));
      if (record.type === 'withdraw' && record.check !== null) taken.delete(String(record.check));
    });
  return taken;
};

const tellDryRun = (
  file: string,
  targets: readonly Target[],
  refused: readonly RefusedRow[],
  options: ImportOptions,
  io: Io,
): Exit => {
  const into = targets.map((target) => ({
    run: target.id,
    new: target.isNew,
    checks: checksIn(target.run),
    records: target.run.records.length,
  }));
  if (options.json === true) io.out(`${jsonWithCodes({ file, into, refused })}\n`);
  else {
    for (const { line, why } of refused) io.out(`${file}: line ${line}: ${why}\n`);
    const runs = into.map(
      (run) =>
        `run ${run.run}${run.new ? ' (new)' : ''}: ${run.checks} checks, ${run.records - run.checks} other entries`,
    );
    io.out(
      refused.length === 0
        ? `Every row can be taken. ${runs.join('; ')}. Nothing was written: dry run.\n`
        : `${refused.length === 1 ? 'One row' : `${refused.length} rows`} would be refused, so nothing would be imported. The rest, ${runs.join('; ')}.\n`,
    );
  }
  return refused.length === 0 ? OK : NO;
};
