import { Command } from 'commander';
import { BAD, type Exit, type Io, MACHINE, NO, OK, refuse, stdio } from './exit.js';
import { guessPort } from './ports/guess-port.js';
import { listPorts } from './ports/list-ports.js';
import { tryPort } from './ports/try-port.js';

export type PortsOptions = {
  readonly profile?: string;
  readonly guess?: boolean;
  readonly ask?: boolean;
  readonly seconds?: string;
  readonly speed?: string;
  readonly json?: boolean;
};

/** `holdreg ports`: the serial ports there are; what comes off one, and what a profile makes of it. */
export const portsCommand = (): Command =>
  new Command('holdreg ports')
    .description('lists serial ports; on one: shows raw bytes beside what a profile understood, live')
    .argument('[PORT]', 'serial port to listen to; none = list the ports')
    .option('--profile <FILE>', 'how the sensor talks (devices/*.json); none = raw bytes only')
    .option('--guess', 'find the speed and the shipped profile that understand most')
    .option('--ask', 'guess: also send the questions of profiles that ask')
    .option('--seconds <N>', 'how long to listen (0 = until Ctrl-C)', '10')
    .option('--speed <BAUD>', 'raw bytes: speed of the line', '9600')
    .option('--data <DIR>', 'data folder (not needed here)')
    .option('--json', 'NDJSON')
    .addHelpText('after', HELP)
    .exitOverride((error) => process.exit(error.exitCode === 0 ? OK : BAD))
    .action(async (port: string | undefined, options: PortsOptions) => {
      const stop = new AbortController();
      const end = (): void => stop.abort();
      process.once('SIGINT', end);
      process.exitCode = await ports(port, options, stdio, stop.signal);
      process.off('SIGINT', end);
    });

/** The command itself; answers with the exit code. */
export const ports = async (
  port: string | undefined,
  options: PortsOptions,
  io: Io,
  signal: AbortSignal,
): Promise<Exit> => {
  const json = options.json === true;
  if (port === undefined) {
    if (options.profile !== undefined || options.guess === true)
      return refuse(io, 'say which PORT to listen to; holdreg ports lists them', BAD);
    return listPorts(io, json);
  }
  if (options.guess === true && options.profile !== undefined)
    return refuse(io, '--guess tries all shipped profiles; take --profile or --guess away', BAD);
  const seconds = Number(options.seconds ?? 10);
  if (!(seconds >= 0 && seconds <= 86_400))
    return refuse(io, `--seconds "${options.seconds}" is not a number from 0 to 86400`, BAD);
  const baud = Number(options.speed ?? 9600);
  if (!(Number.isInteger(baud) && baud >= 110 && baud <= 4_000_000))
    return refuse(io, `--speed "${options.speed}" is not a speed in baud, as 9600`, BAD);
  const listening = { port, ms: seconds === 0 ? Number.POSITIVE_INFINITY : seconds * 1000, signal, json };
  const done =
    options.guess === true
      ? await guessPort(listening, options.ask === true, io)
      : await tryPort(listening, options.profile ?? null, baud, io);
  if (done.kind === 'bad') return refuse(io, done.message, BAD);
  if (done.kind === 'failed') return refuse(io, done.message, MACHINE);
  return done.understood > 0 ? OK : NO;
};

const HELP = `
Examples:
  holdreg ports                                            the ports there are
  holdreg ports /dev/ttyUSB0 --speed 19200                 raw bytes as they come
  holdreg ports /dev/ttyUSB0 --profile devices/query.json  raw bytes beside what was understood
  holdreg ports /dev/ttyUSB0 --guess                       which speed and profile fit
Exit: 0 something was understood (or listed), 1 nothing was, 2 bad use or profile, 3 the port failed.
`;
