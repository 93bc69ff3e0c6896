import { RULES } from '../core/run/begin.js';
import { openRun } from '../runtime.js';
import { createRun, freeRunId } from '../store/run-folder.js';
import { version } from '../version.js';
import type { SensorWanted } from './attach-sensor.js';
import { showBoard } from './board.js';
import { BAD, type Exit, type Io, MACHINE, OK, refuse } from './exit.js';
import { findRun } from './find-run.js';
import { codeFor } from './problem-code.js';
import { readSetup } from './read-setup.js';

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

/** Opens a run in make-ready from a press and a job file, then shows the board. */
export const start = async (
  pressFile: string | undefined,
  jobFile: string | undefined,
  options: StartOptions,
  io: Io,
): Promise<Exit> => {
  if (pressFile === undefined || jobFile === undefined)
    return refuse(io, 'which press and which job? holdreg start press.json job.json (examples: demo-data)', BAD);
  const setup = readSetup(pressFile, jobFile);
  if (!setup.ok) return refuse(io, setup.problem.message, codeFor(setup.problem));
  const open = findRun(options.data, undefined);
  if (open.ok && options.run === undefined)
    return refuse(
      io,
      `run ${open.value.split('/').at(-1)} is in progress; end it first (holdreg end), or name another with --run`,
      BAD,
    );
  const now = new Date();
  const run = options.run ?? freeRunId(options.data, now.toISOString().slice(0, 10));
  const folder = createRun(options.data, run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const opened = await openRun(folder.value, {
    operator: options.by ?? '',
    first: {
      type: 'begin',
      run,
      press: setup.value.press,
      job: setup.value.job,
      rules: RULES,
      program: version(),
      time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    },
  });
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  if (options.board && process.stdin.isTTY && process.stdout.isTTY) return showBoard(opened.value, options, io);
  const unmeasured = setup.value.press.not_measured.length;
  io.out(`Run ${run} is open in make-ready: ${setup.value.job.name} on ${setup.value.press.name}.\n`);
  if (unmeasured > 0)
    io.out(
      `Not measured yet on this press: ${setup.value.press.not_measured.slice(0, 6).join(', ')}${unmeasured > 6 ? ` and ${unmeasured - 6} more` : ''}.\n`,
    );
  await opened.value.close();
  return OK;
};
