import type { Command } from 'commander';
import type { Exit } from '../exit.js';

/** The means by which the two lists of commands put theirs on the line. */
export type Adding = {
  readonly program: Command;
  /** A command with the options that every one has. */
  readonly command: (name: string, says: string) => Command;
  /** Keeps the exit code that an action answers with. */
  readonly run: <A extends unknown[]>(action: (...args: A) => Promise<Exit>) => (...args: A) => Promise<void>;
  readonly data: (o: { data?: string }) => string;
};

export const DATA = ['--data <DIR>', "data folder (else HOLDREG_DATA, else the platform's)"] as const;

export const onRun = (c: Command): Command => c.option('--run <ID>', 'the run meant (else the one in progress)');

export const acting = (c: Command): Command =>
  onRun(c)
    .option('--by <NAME>', 'operator, name or initials')
    .option('--counter <NUMBER>', 'counter as the press shows it, in the unit of the job')
    .option('--json', 'answer in JSON lines');

export const shown = (c: Command): Command => c.option('--ascii', 'plain ASCII drawing').option('--mute', 'no bell');

/** An attached sensor's options. */
export const withSensor = (c: Command): Command =>
  c
    .option('--sensor <PORT>', 'serial port of a mark sensor')
    .option('--profile <FILE>', 'how that sensor talks (devices/*.json)')
    .option('--keep-raw', 'keep every byte of the sensor beside the run (64 MB, two weeks)');
