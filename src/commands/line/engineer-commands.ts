import { type Command, Option } from 'commander';
import { type Exit, stdio } from '../exit.js';
import { type Adding, onRun } from './adding.js';
import type { Flags } from './flags.js';

/** The engineer's commands. `argv`: the whole line, for those that bring options of their own. */
export const engineerCommands = ({ program, command, run, data }: Adding, argv: readonly string[]): void => {
  program.commandsGroup('For the engineer:');
  command('replay', 'feeds recorded readings through the same judgement and prints what it says')
    .argument('<FILE>', 'readings CSV')
    .requiredOption('--press <FILE>', 'press file')
    .requiredOption('--job <FILE>', 'job file')
    .option('--json', 'NDJSON')
    .action(
      run(async (file: string, o: { press: string; job: string; json?: boolean }) =>
        (await import('../replay.js')).replay(file, o, stdio),
      ),
    );
  onRun(command('export', 'readings CSV, NDJSON of records, or charts as SVG out of a run'))
    .addOption(new Option('--format <FORMAT>', 'csv, ndjson or svg').default('csv'))
    .option('--station <ID>', 'svg: the chart of one station, to stdout')
    .option('--axis <AXIS>', 'svg: along or across')
    .option('--out <DIR>', 'svg: every chart, a file each, into this folder')
    .action(
      run(async (o: Flags & { format: string; station?: string; axis?: string; out?: string }) =>
        (await import('../export.js')).exportRun({ ...o, data: data(o) }, stdio),
      ),
    );
  onRun(command('import', 'readings CSV into a run, or the NDJSON of a run into a new one: all or nothing'))
    .argument('<FILE>', 'readings CSV, as export writes it or a spreadsheet saves it; or NDJSON of export')
    .option('--press <FILE>', 'press file, for a new run')
    .option('--job <FILE>', 'job file, for a new run')
    .option('--by <NAME>', 'whose entries they are where the file names nobody')
    .option('--dry-run', 'writes nothing; lists every row that would be refused, and why')
    .option('--json', 'answer in JSON')
    .action(
      run(async (file: string, o: Flags & { press?: string; job?: string; dryRun?: boolean }) =>
        (await import('../import.js')).importReadings(file, { ...o, data: data(o) }, stdio),
      ),
    );
  command('rescue', 'copies what is whole before a damage in the log of a run into a new run')
    .argument('<RUN>', 'the damaged run; it is not changed')
    .option('--as <ID>', 'name of the new run (else RUN-rescued)')
    .action(
      run(async (id: string, o: { data?: string; as?: string }) =>
        (await import('../rescue.js')).rescue(id, { ...o, data: data(o) }, stdio),
      ),
    );
  onRun(command('verify', 'checks run logs: whole, torn, damaged or altered; repairs a torn tail'))
    .option('--seal <FILE>', 'holds the run against a seal that was kept apart from it')
    .option('--json', 'answer in JSON')
    .action(
      run(async (o: Flags & { seal?: string }) =>
        (await import('../verify.js')).verify({ ...o, data: data(o) }, stdio),
      ),
    );
  onRun(command('seal', 'count and chain of a run, to be kept apart from it: altering it later is seen'))
    .option('--out <FILE>', 'writes it to a new file')
    .option('--json', 'answer in JSON')
    .action(
      run(async (o: Flags & { out?: string }) => (await import('../seal.js')).seal({ ...o, data: data(o) }, stdio)),
    );
  command('history', 'across runs, by press and station')
    .option('--press <NAME>', 'this press only')
    .addOption(new Option('--format <FORMAT>', 'txt, md, html or json').default('txt'))
    .option('--json', 'answer in JSON')
    .option('--rebuild', 'works every run out of its log anew, not from the index')
    .action(
      run(async (o: Flags & { press?: string; format: string; rebuild?: boolean }) =>
        (await import('../history.js')).history({ ...o, data: data(o) }, stdio),
      ),
    );
  command('ports', 'lists serial ports; tries a profile on one')
    .allowUnknownOption()
    .helpOption(false)
    .argument('[ARGS...]')
    .action(run(async (_args: string[], _o: unknown, _c: Command) => nested(argv, 'ports')));
  command('stats', 'one statistical method on a column of numbers')
    .allowUnknownOption()
    .helpOption(false)
    .argument('[ARGS...]')
    .action(run(async (_args: string[], _o: unknown, _c: Command) => nested(argv, 'stats')));
};

/** Commands that bring their own options are handed the rest of the line as it stands. */
const nested = async (argv: readonly string[], name: 'ports' | 'stats'): Promise<Exit> => {
  const rest = argv.slice(argv.indexOf(name) + 1);
  const own =
    name === 'stats' ? (await import('../stats.js')).statsCommand() : (await import('../ports.js')).portsCommand();
  process.exitCode = 0;
  await own.exitOverride().parseAsync([...rest], { from: 'user' });
  return Number(process.exitCode ?? 0) as Exit;
};
