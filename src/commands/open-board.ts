import { openRun } from '../runtime.js';
import { type BoardOptions, showBoard } from './board.js';
import { openDialogue } from './dialogue.js';
import { type Exit, type Io, MACHINE, refuse } from './exit.js';
import { findRun } from './find-run.js';
import { codeFor } from './problem-code.js';
import { keepLessons } from './set-up/keep-lessons.js';
import { withProgress } from './with-progress.js';

/** Opens the board on the run in progress; without a terminal, says how the run stands. */
export const openBoard = async (options: BoardOptions, io: Io): Promise<Exit> => {
  const folder = findRun(options.data, options.run);
  if (!folder.ok) {
    if (folder.problem.code === 'none-in-progress' && (await wantsOne())) {
      const { start } = await import('./start.js');
      return start(undefined, undefined, { ...options, board: true }, io);
    }
    return refuse(io, folder.problem.message, codeFor(folder.problem));
  }
  const opened = await withProgress(io, (progress) =>
    openRun(folder.value, { operator: options.by ?? '', lookWhenBarred: true, progress }),
  );
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  const code = await showBoard(opened.value, options, io);
  if (opened.value.readOnly === null)
    for (const text of await keepLessons(options.data, opened.value.state())) io.err(`holdreg: ${text}\n`);
  return code;
};

/** With no run in progress and somebody at the terminal: whether one is to be started now. Enter is yes. */
const wantsOne = async (): Promise<boolean> => {
  if (!process.stdout.isTTY) return false;
  const dialogue = openDialogue();
  const answer = await dialogue?.ask('No run is in progress. Start one now? Enter = yes, n = no:');
  dialogue?.end();
  return typeof answer === 'string' && /^(|y|yes)$/i.test(answer);
};
