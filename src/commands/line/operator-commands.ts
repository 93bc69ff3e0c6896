import { Option } from 'commander';
import { stdio } from '../exit.js';
import type { PracticeOptions } from '../practice/options.js';
import { practiceOptions } from '../practice.js';
import { type Adding, acting, DATA, onRun, shown, withSensor } from './adding.js';
import { type Flags, sensorOf } from './flags.js';

/** The operator's commands, and the board when none is named. Each is loaded only when it is asked for. */
export const operatorCommands = ({ program, command, run, data }: Adding): void => {
  program.commandsGroup('For the operator:');
  withSensor(shown(onRun(program.option(...DATA))))
    .option('--by <NAME>', 'operator, name or initials')
    .action(
      run(async (o: Flags) => (await import('../open-board.js')).openBoard({ ...sensorOf(o), data: data(o) }, stdio)),
    );

  shown(command('demo', 'the whole job on a built-in run, sped up; keys work'))
    .option('--faults', 'the sensor misbehaves on purpose')
    .option('--speed <TIMES>', 'how many times faster than the press', '120')
    .action(run(async (o: Flags & { speed: string; faults?: boolean }) => (await import('../demo.js')).demo(o, stdio)));
  withSensor(shown(command('start', 'opens a run in make-ready; with no files it asks')))
    .argument('[PRESS]', 'press file')
    .argument('[JOB]', 'job file')
    .option('--run <ID>', 'name of the run')
    .option('--by <NAME>', 'operator, name or initials')
    .option('--no-board', 'open the run and leave')
    .action(
      run(async (press: string | undefined, job: string | undefined, o: Flags & { board: boolean }) =>
        (await import('../start.js')).start(press, job, { ...sensorOf(o), board: o.board, data: data(o) }, stdio),
      ),
    );
  acting(command('ok', 'OK to run, on the last full check'))
    .option('--passed-by <NAME>', 'who passed the sample')
    .option('--sample', 'hold to the sample that was passed, not to dead register')
    .action(run(async (o: Flags) => (await import('../acts.js')).okRun({ ...o, data: data(o) }, stdio)));
  acting(command('check', 'keys a check: words like 2:5A:12O:clean, 5:::dirty:fill-in,leading, 6:in'))
    .argument(
      '[READINGS...]',
      'STATION:ALONG:ACROSS:PLATE:FLAWS, blank = not read; STATION:in or STATION:off = looked at. FLAWS, of a plate that is building or dirty: 3/40 counted, fill-in, speck, halo, dried-ink or void, leading or trailing, same (place every repeat) or moves',
    )
    .option('--roll <NUMBER>', 'finished roll the sample came off')
    .option('--looked', 'looked at everything, all in tolerance')
    .option('--clean', 'all plates looked at, clean')
    .option('--note <TEXT>', 'a note with it')
    .action(
      run(async (words: string[], o: Flags) =>
        (await import('../acts.js')).keyCheck(words, { ...o, data: data(o) }, stdio),
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
        (await import('../acts.js')).moved(station, way, divisions, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('roll', 'a finished roll came off, or new stock was spliced in'))
    .argument('<WHAT>', 'off (finished roll) or new (stock roll)')
    .argument('[VALUE]', 'number of the finished roll, or length of the stock in metres')
    .option('--stock <NUMBER>', 'with new: the number of the stock roll')
    .option('--lot <LOT>', 'with new: its lot')
    .action(
      run(async (what: string, value: string | undefined, o: Flags & { stock?: string; lot?: string }) =>
        (await import('../acts.js')).roll(what, value, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('wash', 'a plate was washed (all: every plate)'))
    .argument('<STATION>')
    .action(
      run(async (station: string, o: Flags) =>
        (await import('../acts.js')).wash(station, { ...o, data: data(o) }, stdio),
      ),
    );
  acting(command('stop', 'the press was stopped'))
    .option('--over', 'the stop is over: running again')
    .action(run(async (o: Flags) => (await import('../acts.js')).stop({ ...o, data: data(o) }, stdio)));
  acting(command('end', 'the run has ended')).action(
    run(async (o: Flags) => (await import('../acts.js')).end({ ...o, data: data(o) }, stdio)),
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
    .option('--number <N>', 'the Nth signed handover of the run, as it was when it was signed')
    .option('--sign', 'signs the handover: asks the outgoing operator, then the incoming one')
    .option('--outgoing <NAME>', 'with --sign: who hands over')
    .option('--incoming <NAME>', 'with --sign: who takes over')
    .option('--nobody', 'with --sign: nobody takes over')
    .option('--answer <TOPIC=TEXT...>', 'with --sign: answers, by the number or topic of the question')
    .option('--ticked <POINTS>', 'with --sign: points read back: all, none, or numbers as 1,3')
    .option('--reread <READING>', 'with --sign: the station asked for, read again, as 5A:12O')
    .option('--counter <NUMBER>', 'with --sign: counter as the press shows it, in the unit of the job')
    .option('--json', 'with --sign: answer in JSON lines')
    .action(
      run(async (o: Flags & HandoverFlags) =>
        o.sign === true
          ? (await import('../handover-sign.js')).signHandover({ ...o, data: data(o) }, stdio)
          : (await import('../handover.js')).handover({ ...o, data: data(o) }, stdio),
      ),
    );

  onRun(command('holds', 'lists held product, prints its tags, or says what became of it'))
    .argument('[STATE]', 're-inspect, released, reworked, scrapped, hold again; keep: hold whatever was read')
    .argument('[ROLLS...]', 'numbers of the held finished rolls')
    .option('--by <NAME>', 'who says so, name or initials')
    .option('--second <NAME>', 'who releases beside them: two persons release')
    .option('--note <TEXT>', 'a note with it; with keep, why it is held')
    .option('--from <NUMBER>', 'with keep: from this counter on, in the unit of the job')
    .option('--to <NUMBER>', 'with keep: up to this counter')
    .option('--tags', 'prints a tag for each held roll')
    .addOption(new Option('--format <FORMAT>', 'list: txt, md or json; tags: html or txt'))
    .option('--json', 'answer in JSON')
    .action(
      run(async (state: string | undefined, rolls: string[], o: Flags & HoldFlags) =>
        (await import('../holds.js')).holds(state, rolls, { ...o, data: data(o) }, stdio),
      ),
    );

  practiceOptions(command('practice', 'a simulated press to learn on, apart from production')).action(
    run(async (o: PracticeOptions & { data?: string }) =>
      (await import('../practice.js')).practice({ ...o, data: data(o) }, stdio),
    ),
  );
};

type HoldFlags = { from?: string; to?: string; second?: string; note?: string; tags?: boolean; format?: string };

type HandoverFlags = {
  format: string;
  since?: string;
  number?: string;
  runReport?: boolean;
  sign?: boolean;
  outgoing?: string;
  incoming?: string;
  nobody?: boolean;
  answer?: string[];
  ticked?: string;
  reread?: string;
};
