import { createInterface } from 'node:readline/promises';

/** Questions to the person at the terminal, one after the other. */
export type Dialogue = {
  /** The answer without blanks around it; '' = just Enter; null = the dialogue was left (Ctrl-D, Ctrl-C). */
  ask(question: string): Promise<string | null>;
  /** Something to read between the questions. */
  say(text: string): void;
  end(): void;
};

/** Speaks on stderr, so that stdout stays what the command prints; null when nobody sits at a terminal. */
export const openDialogue = (): Dialogue | null => {
  if (!process.stdin.isTTY) return null;
  const lines = createInterface({ input: process.stdin, output: process.stderr });
  const left = new AbortController();
  lines.once('close', () => left.abort());
  lines.once('SIGINT', () => lines.close());
  return {
    ask: async (question) => {
      if (left.signal.aborted) return null;
      try {
        return (await lines.question(`${question} `, { signal: left.signal })).trim();
      } catch {
        return null;
      }
    },
    say: (text) => {
      process.stderr.write(`${text}\n`);
    },
    end: () => lines.close(),
  };
};
