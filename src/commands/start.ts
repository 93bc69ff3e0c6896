import { basename } from 'node:path';
import { RULES } from '../core/run/begin.js';
import { beginRun } from '../runtime/begin-run.js';
import { openRun } from '../runtime.js';
import { isBegun } from '../store/is-begun.js';
import { freeRunId, runFolder } from '../store/run-folder.js';
import { version } from '../version.js';
import type { SensorWanted } from './attach-sensor.js';
import { showBoard } from './board.js';
import { answer, BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { findRun } from './find-run.js';
import { readLearned } from './learned.js';
import { codeFor } from './problem-code.js';
import { readSetup } from './read-setup.js';
import { catchUp } from './set-up/catch-up.js';
import { keepLessons } from './set-up/keep-lessons.js';
import { rememberUsed } from './set-up/remember-used.js';

export type StartOptions = {
  readonly data: string;
  readonly run?: string;
  readonly by?: string;
  readonly sensor?: SensorWanted;
  readonly ascii?: boolean;
  readonly mute?: boolean;
  /** Opens the run and leaves; for scripts and for a terminal that is elsewhere. */
  readonly board: boolean;
};

/** Opens a run in make-ready from a press and a job file, then shows the board. What is not given is asked. */
export const start = async (
  pressFile: string | undefined,
  jobFile: string | undefined,
  options: StartOptions,
  io: Io,
): Promise<Exit> => {
  const open = findRun(options.data, undefined);
  if (open.ok && options.run === undefined)
    return refuse(
      io,
      `run ${basename(open.value)} is in progress; end it first (holdreg end), or name another with --run`,
      BAD,
    );
  // Said before anything is asked, not after.
  const taken = options.run === undefined ? null : runFolder(options.data, options.run);
  if (taken?.ok === true && isBegun(taken.value))
    return refuse(io, `there is already a run "${options.run}" in ${options.data}; choose another name`, BAD);
  if (taken?.ok === false && taken.problem.code === 'no-run-name') return refuse(io, taken.problem.message, BAD);
  if (options.sensor !== undefined) {
    const profile = await (await import('../devices/read-profile.js')).loadProfile(options.sensor.profile);
    if (!profile.ok) return refuse(io, profile.problem.message, BAD);
  }
  const files = await filesOf(pressFile, jobFile, options, io);
  if (typeof files === 'number') return files;
  const setup = readSetup(files.press, files.job);
  if (!setup.ok) return refuse(io, setup.problem.message, codeFor(setup.problem));
  const { press, job } = setup.value;
  // What the shop file could say is a help, not a condition: its troubles are told and the run is opened all the same.
  const tell = (text: string): void => io.err(`holdreg: ${text}\n`);
  for (const text of await catchUp(options.data, press.name)) tell(text);
  const recalled = await readLearned(options.data, press, job);
  for (const text of recalled.ok ? recalled.value.said : [recalled.problem.message]) tell(text);
  const learned = recalled.ok ? recalled.value.learned : null;
  const now = new Date();
  const run = options.run ?? freeRunId(options.data, now.toISOString().slice(0, 10));
  const first = {
    type: 'begin',
    run,
    press,
    job,
    rules: RULES,
    program: version(),
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    ...(learned === null ? {} : { learned }),
  } as const;
  const folder = await beginRun(options.data, run, first, { at: now.toISOString(), by: options.by ?? '' });
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const opened = await openRun(folder.value, { operator: options.by ?? '' });
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  const remembered = await rememberUsed(options.data, run, { press: press.name, job: job.name }, files, now);
  if (!remembered.ok) tell(remembered.problem.message);
  if (options.board && process.stdin.isTTY && process.stdout.isTTY) {
    const code = await showBoard(opened.value, options, io);
    for (const text of await keepLessons(options.data, opened.value.state())) tell(text);
    return code;
  }
  const unmeasured = press.not_measured.length;
  answer(io, `Run ${run} is open in make-ready: ${job.name} on ${press.name}.`);
  if (unmeasured > 0)
    answer(
      io,
      `Not measured yet on this press: ${press.not_measured.slice(0, 6).join(', ')}${unmeasured > 6 ? ` and ${unmeasured - 6} more` : ''}.`,
    );
  await opened.value.close();
  return OK;
};

/** The files named, or those that the set-up makes; an exit code when there are none. */
const filesOf = async (
  press: string | undefined,
  job: string | undefined,
  options: StartOptions,
  io: Io,
): Promise<{ readonly press: string; readonly job: string } | Exit> => {
  if (press !== undefined && job !== undefined) return { press, job };
  if (!process.stdin.isTTY)
    return refuse(io, 'which press and which job? holdreg start press.json job.json (examples: demo-data)', BAD);
  const { setUp } = await import('./set-up.js');
  const asked = await setUp(options.data, press);
  if (!asked.ok) return refuse(io, asked.problem.message, codeFor(asked.problem));
  if (!('left' in asked.value)) return asked.value;
  return asked.value.left === 'ctrl-c' ? 130 : NO;
};
