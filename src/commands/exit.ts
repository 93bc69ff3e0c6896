import { once } from 'node:events';
import { withoutHidden } from '../core/hidden-characters.js';

/** What a command says and where; tests put their own in. */
export type Io = {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whoever has much to say waits here now and then, until what was said is taken. */
  readonly drained?: () => Promise<unknown>;
};

/** 0 ok · 1 it ran and the answer is no · 2 bad use or bad input · 3 the machine failed it (disk, port). */
export type Exit = 0 | 1 | 2 | 3 | 129 | 130 | 143;

export const OK: Exit = 0;
export const NO: Exit = 1;
export const BAD: Exit = 2;
export const MACHINE: Exit = 3;

let said = false;
/** Whether there was anything to answer. */
export const hasAnswered = (): boolean => said;

export const stdio: Io = {
  out: (text) => {
    said ||= text !== '';
    process.stdout.write(text);
  },
  err: (text) => {
    process.stderr.write(text);
  },
  drained: async () => {
    if (process.stdout.writableNeedDrain) await once(process.stdout, 'drain');
  },
};

/** What was logged is logged; but an answer that never came out must not be taken for a yes by a script. */
export const answerLost = (why: string): Exit =>
  refuse(stdio, `the answer could not be written out (${why}); entries that were made are in the log`, MACHINE);

/** One or two lines on stderr, and the exit code. What a file or a name brought into the message moves no terminal. */
export const refuse = (io: Io, message: string, code: Exit): Exit => {
  io.err(`holdreg: ${withoutHidden(message.replace(CONTROLS, ''))}\n`);
  return code;
};

/** For a person, a line: what names and notes of an old log brought into it goes. */
export const answer = (io: Io, line: string): void => io.out(`${withoutHidden(line.replace(CONTROLS, ''))}\n`);

/** Line ends apart. */
const CONTROLS = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g;
