import { Command, CommanderError } from 'commander';
import { isOutputClosed } from './commands/closed-output.js';
import { answerLost, BAD, type Exit, hasAnswered, MACHINE, refuse, stdio } from './commands/exit.js';
import { type Adding, DATA } from './commands/line/adding.js';
import { engineerCommands } from './commands/line/engineer-commands.js';
import { operatorCommands } from './commands/line/operator-commands.js';
import { nearest } from './core/nearest.js';
import { dataDir } from './store/data-dir.js';
import { version } from './version.js';

/** Reads the command line, runs one command, answers with its exit code. Each command is loaded only when it is asked for. */
export const main = async (argv: readonly string[]): Promise<number> => {
  let code: Exit = 0;
  const program = new Command('holdreg')
    .description(
      'Holds register over a long flexo run: takes checks, tells real movements from scatter, says what to turn.',
    )
    .version(version(), '--version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .exitOverride()
    .configureHelp({ showGlobalOptions: true });
  program.enablePositionalOptions();

  const adding: Adding = {
    program,
    command: (name, says) =>
      program
        .command(name)
        .description(says)
        .option(...DATA)
        .exitOverride(),
    run:
      (action) =>
      async (...args) => {
        code = await action(...args);
      },
    data: (o) => dataDir(o.data, process.env),
  };
  operatorCommands(adding);
  engineerCommands(adding, argv);

  // A reader that has seen enough (head, a pager that was left) is no fault of ours.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    // A terminal that was closed: the board takes its screen down and closes the run first (leave-well.ts).
    if (process.stdout.isTTY) throw error;
    process.exit(
      answerLost(
        error.code === 'ENOSPC'
          ? 'the disk is full; free some space'
          : `the system refused: ${error.code ?? error.message}`,
      ),
    );
  });
  const first = argv[0];
  const known = program.commands.map((c) => c.name());
  if (first !== undefined && !first.startsWith('-') && !known.includes(first) && first !== 'help') {
    const near = nearest(first, known);
    return refuse(
      stdio,
      `unknown command "${first}"${near === null ? '' : `; nearest is "${near}"`}. holdreg --help lists them`,
      BAD,
    );
  }
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return hasAnswered() && isOutputClosed() ? answerLost('standard output is closed') : code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : BAD;
    process.stderr.write(
      `holdreg: ${error instanceof Error ? (process.env.HOLDREG_DEBUG === undefined ? error.message : (error.stack ?? error.message)) : String(error)}\n`,
    );
    return MACHINE;
  }
};
