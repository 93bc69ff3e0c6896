import { once } from 'node:events';

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

export const stdio: Io = {
  out: (text) => {
    process.stdout.write(text);
  },
  err: (text) => {
    process.stderr.write(text);
  },
  drained: async () => {
    if (process.stdout.writableNeedDrain) await once(process.stdout, 'drain');
  },
};

/** One or two lines on stderr, and the exit code. What a file or a name brought into the message moves no terminal. */
export const refuse = (io: Io, message: string, code: Exit): Exit => {
  io.err(`holdreg: ${message.replace(CONTROLS, '')}\n`);
  return code;
};

/** Control and direction characters, line ends apart. */
const CONTROLS = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;
