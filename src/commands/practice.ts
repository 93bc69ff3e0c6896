import { type Command, Option } from 'commander';
import type { Exit, Io } from './exit.js';
import type { PracticeOptions } from './practice/options.js';

/** The options of `holdreg practice`, apart from --data. */
export const practiceOptions = (c: Command): Command =>
  c
    .option('--lesson <N>', 'exercise 1 to 6, or free', '1')
    .option('--seed <N>', 'the same number gives a whole class the same run', '1')
    .option('--fault <FILE>', 'an exercise of your own (fault/1, see the README)')
    .option('--numbers', 'show numbers, keyed by themselves, instead of marks under a loupe')
    .option('--no-hints', 'say nothing of what to do next')
    .option('--pace <TIMES>', 'the web runs by itself, so many times faster than life; 0 = only when told to', '0')
    .option('--student <NAME>', 'name in the results', 'student')
    .option('--results <FILE>', 'results file, one line a student (else practice/results.csv in the data folder)')
    .addOption(new Option('--format <FORMAT>', 'of the page a student: md, html, json or txt').default('txt'))
    .option('--table', 'print best, advised and never-touched waste of the six exercises, and leave')
    .option('--ascii', 'plain ASCII drawing');

/** A simulated press to learn on, apart from production: at a terminal a screen, without one it reads the same commands line by line. */
export const practice = async (options: PracticeOptions, io: Io): Promise<Exit> => {
  const { startOf } = await import('./practice/options.js');
  const start = startOf(options);
  const { refuse, BAD } = await import('./exit.js');
  if (!start.ok) return refuse(io, start.problem.message, BAD);
  if (options.table === true) {
    const { wasteTable } = await import('./practice/waste-table.js');
    return wasteTable(start.value.exercise.seed, io);
  }
  const { playPractice } = await import('./practice/play-practice.js');
  return playPractice(start.value, options, io);
};
