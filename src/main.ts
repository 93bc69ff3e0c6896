import { Command, CommanderError, Option } from 'commander';
import { BAD, type Exit, MACHINE, refuse, stdio } from './commands/exit.js';
import type { PracticeOptions } from './commands/practice/options.js';
import { practiceOptions } from './commands/practice.js';
import { nearest } from './core/nearest.js';
import { dataDir } from './store/data-dir.js';
import { version } from './version.js';

/** Reads the command line, runs one command, answers with its exit code. Each command is loaded only when it is asked for. */
export const main = async (argv: readonly string[]): Promise<number> => {
  let code: Exit = 0;
  const run =
    <A extends unknown[]>(action: (...args: A) => Promise<Exit>) =>
    async (...args: A): Promise<void> => {
      code = await action(...args);
    };
  const program = new Command('holdreg')
    .description(
      'Holds register over a long flexo run: takes checks, tells real movements from scatter, says what to turn.',
    )
    .version(version(), '--version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .exitOverride()
    .configureHelp({ showGlobalOptions: true });
  program.enablePositionalOptions();

  const command = (name: string, says: string): Command =>
    program
      .command(name)
      .description(says)
      .option('--data <DIR>', "data folder (else HOLDREG_DATA, else the platform's)")
      .exitOverride();
  const onRun = (c: Command): Command => c.option('--run <ID>', 'the run meant (else the one in progress)');
  const acting = (c: Command): Command =>
    onRun(c)
      .option('--by <NAME>', 'operator, name or initials')
      .option('--counter <METRES>', 'counter as the press shows it')
      .option('--json', 'answer in JSON lines');
  const shown = (c: Command): Command => c.option('--ascii', 'plain ASCII drawing').option('--mute', 'no bell');
  const data = (o: { data?: string }): string => dataDir(o.data, process.env);

  const forOperator = program.commandsGroup('For the operator:');
  shown(onRun(program.option('--data <DIR>', "data folder (else HOLDREG_DATA, else the platform's)")))
    .option('--by <NAME>', 'operator, name or initials')
    .option('--sensor <PORT>', 'serial port of a mark sensor')
    .option('--profile <FILE>', 'how that sensor talks (devices/*.json)')
    .option('--keep-raw', 'keep every byte of the sensor beside the run (64 MB, two weeks)')
    .action(
      run(async (o: Flags) => (await import('./commands/board.js')).board({ ...sensorOf(o), data: data(o) }, stdio)),
    );
  void forOperator;

  shown(command('demo', 'the whole job on a built-in run, sped up; keys work'))
    .option('--faults', 'the sensor misbehaves on purpose')
    .option('--speed <TIMES>', 'how many times faster than the press', '120')
    .action(
      run(async (o: Flags & { speed: string; faults?: boolean }) =>
        (await import('./commands/demo.js')).demo(o, stdio),
      ),
    );
  shown(command('start', 'opens a run in make-ready; with no files it asks'))
    .argument('[PRESS]', 'press file')
    .argument('[JOB]', 'job file')
    .option('--run <ID>', 'name of the run')
    .option('--by <NAME>', 'operator, name or initials')
    .option('--sensor <PORT>', 'serial port of a mark sensor')
    .option('--profile <FILE>', 'how that sensor talks (devices/*.json)')
    .option('--keep-raw', 'keep every byte of the sensor beside the run (64 MB, two weeks)')
    .option('--no-board', 'open the run and leave')
    .action(
      run(async (press: string | undefined, job: string | undefined, o: Flags & { board: boolean }) =>
        (await import('./commands/start.js')).start(
          press,
          job,
          { ...sensorOf(o), board: o.board, data: data(o) },
          stdio,
        ),
      ),
    );
  acting(command('ok', 'OK to run, on the last full check'))
    .option('--passed-by <NAME>', 'who passed the sample')
    .option('--sample', 'hold to the sample that was passed, not to dead register')
    .action(run(async (o: Flags) => (await import('./commands/acts.js')).okRun({ ...o, data: data(o) }, stdio)));
  acting(command('check', 'keys a check: words like 2:5A:12O:clean, 6:in'))
    .argument('[READINGS...]', 'STATION:ALONG:ACROSS:PLATE, blank = not read; STATION:in or STATION:off = looked at')
    .option('--roll <NUMBER>', 'finished roll the sample came off')
    .option('--looked', 'looked at everything, all in tolerance')
    .option('--clean', 'all plates looked at, clean')
    .option('--note <TEXT>', 'a note with it')
    .action(
      run(async (words: string[], o: Flags) =>
        (await import('./commands/acts.js')).keyCheck(words, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('moved', 'a knob or gear was turned: which way the print went'))
    .argument('<STATION>')
    .argument('<WAY>', 'advance, retard, operator or gear')
    .argument('[DIVISIONS]', 'divisions of the knob, − back from WAY')
    .option('--teeth <N>', 'whole teeth, − back from WAY')
    .option('--mm <MM>', 'movement in mm, where divisions are not measured')
    .action(
      run(async (station: string, way: string, divisions: string | undefined, o: Flags) =>
        (await import('./commands/acts.js')).moved(station, way, divisions, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('roll', 'a finished roll came off, or new stock was spliced in'))
    .argument('<WHAT>', 'off (finished roll) or new (stock roll)')
    .argument('[VALUE]', 'number of the finished roll, or length of the stock in metres')
    .action(
      run(async (what: string, value: string | undefined, o: Flags) =>
        (await import('./commands/acts.js')).roll(what, value, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('wash', 'a plate was washed (all: every plate)'))
    .argument('<STATION>')
    .action(
      run(async (station: string, o: Flags) =>
        (await import('./commands/acts.js')).wash(station, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('stop', 'the press was stopped'))
    .option('--over', 'the stop is over: running again')
    .action(run(async (o: Flags) => (await import('./commands/acts.js')).stop({ ...o, data: data(o) }, stdio)));
  acting(command('end', 'the run has ended')).action(
    run(async (o: Flags) => (await import('./commands/acts.js')).end({ ...o, data: data(o) }, stdio)),
  );
  onRun(command('handover', 'prints the shift report; --sign walks both sides through it'))
    .option(
      '--since <TIME>',
      'start of the shift: 06:00, an ISO time, or "shift" = the last shift change (else the whole run)',
    )
    .addOption(new Option('--format <FORMAT>', 'md, html, json or txt').default('md'))
    .option(
      '--run-report',
      'the report of the whole run instead: product, capability, checks, knobs, advice for the next',
    )
    .option('--sign', 'signs the handover: asks the outgoing operator, then the incoming one')
    .option('--outgoing <NAME>', 'with --sign: who hands over')
    .option('--incoming <NAME>', 'with --sign: who takes over')
    .option('--nobody', 'with --sign: nobody takes over')
    .option('--answer <TOPIC=TEXT...>', 'with --sign: answers, by the number or topic of the question')
    .option('--ticked <POINTS>', 'with --sign: points read back: all, none, or numbers as 1,3')
    .option('--reread <READING>', 'with --sign: the station asked for, read again, as 5A:12O')
    .option('--counter <METRES>', 'with --sign: counter as the press shows it')
    .option('--json', 'with --sign: answer in JSON lines')
    .action(
      run(async (o: Flags & HandoverFlags) =>
        o.sign === true
          ? (await import('./commands/handover-sign.js')).signHandover({ ...o, data: data(o) }, stdio)
          : (await import('./commands/handover.js')).handover({ ...o, data: data(o) }, stdio),
      ),
    );

  onRun(command('holds', 'lists held product, prints its tags, or says what became of it'))
    .argument('[STATE]', 're-inspect, released, reworked, scrapped, or hold again')
    .argument('[ROLLS...]', 'numbers of the held finished rolls')
    .option('--by <NAME>', 'who says so, name or initials')
    .option('--second <NAME>', 'who releases beside them: two persons release')
    .option('--note <TEXT>', 'a note with it')
    .option('--tags', 'prints a tag for each held roll')
    .addOption(new Option('--format <FORMAT>', 'list: txt, md or json; tags: html or txt'))
    .option('--json', 'answer in JSON')
    .action(
      run(async (state: string | undefined, rolls: string[], o: Flags & HoldFlags) =>
        (await import('./commands/holds.js')).holds(state, rolls, { ...o, data: data(o) }, stdio),
      ),
    );

  practiceOptions(command('practice', 'a simulated press to learn on, apart from production')).action(
    run(async (o: PracticeOptions & { data?: string }) =>
      (await import('./commands/practice.js')).practice({ ...o, data: data(o) }, stdio),
    ),
  );

  program.commandsGroup('For the engineer:');
  command('replay', 'feeds recorded readings through the same judgement and prints what it says')
    .argument('<FILE>', 'readings CSV')
    .requiredOption('--press <FILE>', 'press file')
    .requiredOption('--job <FILE>', 'job file')
    .option('--json', 'NDJSON')
    .action(
      run(async (file: string, o: { press: string; job: string; json?: boolean }) =>
        (await import('./commands/replay.js')).replay(file, o, stdio),
      ),
    );
  onRun(command('export', 'readings CSV, NDJSON of records, or charts as SVG out of a run'))
    .addOption(new Option('--format <FORMAT>', 'csv, ndjson or svg').default('csv'))
    .option('--station <ID>', 'svg: the chart of one station, to stdout')
    .option('--axis <AXIS>', 'svg: along or across')
    .option('--out <DIR>', 'svg: every chart, a file each, into this folder')
    .action(
      run(async (o: Flags & { format: string; station?: string; axis?: string; out?: string }) =>
        (await import('./commands/export.js')).exportRun({ ...o, data: data(o) }, stdio),
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
        (await import('./commands/import.js')).importReadings(file, { ...o, data: data(o) }, stdio),
      ),
    );
  onRun(command('verify', 'checks run logs: whole, torn or damaged; repairs a torn tail'))
    .option('--json', 'answer in JSON')
    .action(run(async (o: Flags) => (await import('./commands/verify.js')).verify({ ...o, data: data(o) }, stdio)));
  command('history', 'across runs, by press and station')
    .option('--press <NAME>', 'this press only')
    .addOption(new Option('--format <FORMAT>', 'txt, md or json').default('txt'))
    .option('--json', 'answer in JSON')
    .option('--rebuild', 'works every run out of its log anew, not from the index')
    .action(
      run(async (o: Flags & { press?: string; format: string; rebuild?: boolean }) =>
        (await import('./commands/history.js')).history({ ...o, data: data(o) }, stdio),
      ),
    );
  command('ports', 'lists serial ports; tries a profile on one')
    .allowUnknownOption()
    .helpOption(false)
    .argument('[ARGS...]')
    .action(run(async (_args: string[], _o: unknown, c: Command) => nested(c, 'ports')));
  command('stats', 'one statistical method on a column of numbers')
    .allowUnknownOption()
    .helpOption(false)
    .argument('[ARGS...]')
    .action(run(async (_args: string[], _o: unknown, c: Command) => nested(c, 'stats')));

  /** Commands that bring their own options are handed the rest of the line as it stands. */
  const nested = async (_c: Command, name: 'ports' | 'stats'): Promise<Exit> => {
    const rest = argv.slice(argv.indexOf(name) + 1);
    const own =
      name === 'stats'
        ? (await import('./commands/stats.js')).statsCommand()
        : (await import('./commands/ports.js')).portsCommand();
    process.exitCode = 0;
    await own.exitOverride().parseAsync([...rest], { from: 'user' });
    return Number(process.exitCode ?? 0) as Exit;
  };

  // A reader that has seen enough (head, a pager that was left) is no fault of ours.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    throw error;
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
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : BAD;
    process.stderr.write(
      `holdreg: ${error instanceof Error ? (process.env.HOLDREG_DEBUG === undefined ? error.message : (error.stack ?? error.message)) : String(error)}\n`,
    );
    return MACHINE;
  }
};

type HoldFlags = { second?: string; note?: string; tags?: boolean; format?: string };

type HandoverFlags = {
  format: string;
  since?: string;
  runReport?: boolean;
  sign?: boolean;
  outgoing?: string;
  incoming?: string;
  nobody?: boolean;
  answer?: string[];
  ticked?: string;
  reread?: string;
};

type Flags = {
  data?: string;
  run?: string;
  by?: string;
  counter?: string;
  json?: boolean;
  ascii?: boolean;
  mute?: boolean;
  sensor?: string;
  keepRaw?: boolean;
  profile?: string;
};

const sensorOf = ({
  sensor,
  profile,
  keepRaw,
  ...rest
}: Flags): Omit<Flags, 'sensor' | 'profile' | 'keepRaw'> & {
  sensor?: { port: string; profile: string; keepRaw: boolean };
} =>
  sensor === undefined
    ? rest
    : { ...rest, sensor: { port: sensor, profile: profile ?? '', keepRaw: keepRaw ?? false } };
