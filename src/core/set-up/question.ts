import type { Result } from '../result.js';

/** What the operator answered, by question: the text as it was understood, in its normal form. */
export type Answers = Readonly<Record<string, string>>;

/** An answer that was understood: the text to keep, and what it was taken for where that is worth saying. */
export type Understood = { readonly text: string; readonly said?: string };

/** One thing to ask at the terminal. */
export type Question = {
  readonly key: string;
  /** A few words for the list of answers. */
  readonly label: string;
  readonly ask: string;
  /** What Enter means; null = only the operator knows. */
  readonly usual: string | null;
  /** What it is for, told when asked with ?. */
  readonly more: string;
  readonly understand: (text: string) => Result<Understood>;
};

/** The answer to what nobody knows yet. */
export const NOT_KNOWN = 'not known';
