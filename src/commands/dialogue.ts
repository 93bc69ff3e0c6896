import { createInterface } from 'node:readline/promises';
import { wrapText } from '../report/wrap-text.js';

/** Questions to the person at the terminal, one after the other. */
export type Dialogue = {
  /** The answer without blanks around it; '' = just Enter; null = the dialogue was left (Ctrl-D, Ctrl-C). */
  ask(question: string): Promise<string | null>;
  /** Something to read between the questions. */
  say(text: string): void;
  end(): void;
};

/** Broken between words, with room for a short answer behind a question: a terminal left to itself breaks them anywhere. */
const whole = (text: string): string => {
  const width = Math.max(40, Math.min(100, process.stderr.columns ?? 80) - 4);
  return text
    .split('\n')
    .flatMap((line) => {
      const indent = /^ */.exec(line)?.[0] ?? '';
      return line.length <= width
        ? [line]
        : wrapText(line.trimStart(), width - indent.length).map((one) => indent + one);
    })
    .join('\n');
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
        return (await lines.question(`${whole(question)} `, { signal: left.signal })).trim();
      } catch {
        return null;
      }
    },
    say: (text) => {
      process.stderr.write(`${whole(text)}\n`);
    },
    end: () => lines.close(),
  };
};
