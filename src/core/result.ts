/** Expected trouble is a value, not a throw: what is wrong, where, and what to do about it. */
export type Problem = {
  /** One or two lines for the operator: what, where, what to do. */
  readonly message: string;
  /** Where the trouble stands, when it stands somewhere: a file, a line, the path of a key. */
  readonly where?: string;
  /** The message without where and what was being done: for one row of the board, or a list that names the place itself. */
  readonly why?: string;
  /** The line of a file that is at fault, from 1. */
  readonly line?: number;
  /** What kind of trouble it is, for whoever decides by it: sentences are for people and are never searched. */
  readonly code?: ProblemCode;
};

/** machine: disk, port or memory refused, nobody asked for anything wrong. The others name the one thing that was not found or not fit. */
export type ProblemCode = 'machine' | 'none-in-progress' | 'no-such-run' | 'no-run-name' | 'other-version';

export type Result<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

export const ok = <T>(value: T): Result<T> => ({ ok: true, value });

export const fail = (message: string, where?: string, code?: ProblemCode): Refusal => ({
  ok: false,
  problem: { message, ...(where === undefined ? {} : { where }), ...(code === undefined ? {} : { code }) },
});

/** A refusal that names file and line. */
export const failAtLine = (file: string, line: number, why: string): Refusal => ({
  ok: false,
  problem: { message: `${file}: line ${line}: ${why}`, where: `${file}:${line}`, why, line },
});

type Refusal = { readonly ok: false; readonly problem: Problem };
