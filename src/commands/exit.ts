/** What a command says and where; tests put their own in. */
export type Io = { readonly out: (text: string) => void; readonly err: (text: string) => void };

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
};

/** One or two lines on stderr, and the exit code. */
export const refuse = (io: Io, message: string, code: Exit): Exit => {
  io.err(`holdreg: ${message}\n`);
  return code;
};
