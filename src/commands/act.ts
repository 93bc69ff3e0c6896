import { repeatMm } from '../core/job.js';
import type { RecordBody } from '../core/record.js';
import { fail, ok, type Problem, type Result } from '../core/result.js';
import type { RunState } from '../core/run/state.js';
import { lengthToM } from '../core/units.js';
import { openRun, type Runtime } from '../runtime.js';
import { answer, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { findRun } from './find-run.js';
import { saveLearned } from './learned.js';
import { codeFor } from './problem-code.js';
import { recordedLine } from './replay-line.js';
import { tellFindings } from './tell-findings.js';
import { withProgress } from './with-progress.js';

export type ActOptions = {
  readonly data: string;
  readonly run?: string;
  readonly by?: string;
  readonly json?: boolean;
};

/** One act of the operator from the shell: opens the run in progress, writes one record (or several), says what it made known. */
export const act = async (
  options: ActOptions,
  io: Io,
  make: (runtime: Runtime) => Promise<Result<readonly RecordBody[]>> | Result<readonly RecordBody[]>,
): Promise<Exit> => {
  const folder = findRun(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const opened = await withProgress(io, (progress) => openRun(folder.value, { operator: options.by ?? '', progress }));
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  const runtime = opened.value;
  try {
    const { run } = runtime.state();
    const refused = (problem: Problem): Exit => refuse(io, `run ${run}: ${problem.message}`, codeFor(problem));
    if (runtime.readOnly !== null)
      return refuse(io, `run ${run} is ${runtime.readOnly}; use that screen, or close it first`, NO);
    if (runtime.repaired !== null) io.err(`holdreg: run ${run}: ${runtime.repaired}\n`);
    const bodies = await make(runtime);
    if (!bodies.ok) return refused(bodies.problem);
    const lines: string[] = [];
    runtime.onRecord((record, found) =>
      lines.push(...tellFindings(runtime.state(), record, found, options.json === true)),
    );
    for (const body of bodies.value) {
      const wrote = await runtime.submit(body);
      if (!wrote.ok) return refused(wrote.problem);
      if (options.json === true) lines.push(recordedLine(run, wrote.value));
    }
    if (bodies.value.some((body) => body.type === 'end')) await saveLearned(options.data, runtime.state());
    for (const line of lines) options.json === true ? io.out(`${line}\n`) : answer(io, line);
    // With several runs open, the answer says which one took the entry.
    if (options.json !== true) answer(io, `Run ${run}: ${runtime.board().instruction.sentence}`);
    return OK;
  } finally {
    await runtime.close();
  }
};

/** The counter as the press shows it, in the job's own unit, or where the web was last known to stand. */
export const counterOf = (state: RunState, counter: string | undefined): Result<number> => {
  if (counter === undefined) {
    const { web } = state.judged;
    return web.keyed_ms === null ? fail('the counter is not known yet: give it with --counter') : ok(web.base_m);
  }
  const unit = state.job.units.length;
  const shown = Number(counter.replace(/[\s\u00A0\u202F']/g, '').replace(',', '.'));
  return Number.isFinite(shown) && counter.trim() !== ''
    ? ok(lengthToM(shown, unit, repeatMm(state.press, state.job)) + state.judged.counter_offset_m)
    : fail(`--counter "${counter}" is not a counter: digits, in ${unit}, as the job counts`);
};
