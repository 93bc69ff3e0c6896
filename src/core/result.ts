/** Expected trouble is a value, not a throw: what is wrong, where, and what to do about it. */
export type Problem = {
  /** One or two lines for the operator: what, where, what to do. */
  readonly message: string;
  /** Where the trouble stands, when it stands somewhere: a file, a line, the path of a key. */
  readonly where?: string;
};

export type Result<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

export const ok = <T>(value: T): Result<T> => ({ ok: true, value });

export const fail = (message: string, where?: string): { readonly ok: false; readonly problem: Problem } => ({
  ok: false,
  problem: where === undefined ? { message } : { message, where },
});
