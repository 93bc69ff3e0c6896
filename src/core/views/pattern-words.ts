/** A pattern with a name of its own, as one sentence about what it usually is; '' = none. Common practice, no source. */
export const patternWords = (pattern: string | null): string => (pattern === null ? '' : (WORDS[pattern] ?? ''));

const WORDS: Readonly<Record<string, string>> = {
  'at roll change': 'It came with a roll change: new stock or a splice pulls otherwise.',
  'within each roll': 'It goes the same way within every roll: unwind tension, as the roll gets smaller.',
  'tooth step': 'It is as far as whole gear teeth: a tooth may have jumped.',
  'over-adjusting': 'It goes to and fro after each correction: it is being adjusted too often.',
};
