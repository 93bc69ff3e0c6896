import { createInterface } from 'node:readline';
import { wrapText } from '../../report/wrap-text.js';

/** Lines that an operator types at a terminal, one after the other. */
export type OperatorLines = {
  /** The next line; null = he left (Ctrl-C, Ctrl-D, or the terminal was closed). */
  ask(prompt: string): Promise<string | null>;
  say(text: string): void;
  /** Left with Ctrl-C, not with Ctrl-D. */
  interrupted(): boolean;
  end(): void;
};

/** Speaks on stderr, so that stdout stays what the command prints. Lines typed ahead, or pasted all at once, are kept in order. */
export const openOperatorLines = (): OperatorLines => {
  const lines = createInterface({ input: process.stdin, output: process.stderr, historySize: 0 });
  const ahead: string[] = [];
  let waiting: ((line: string | null) => void) | null = null;
  let closed = false;
  let interrupted = false;
  lines.on('line', (line) => {
    if (waiting === null) ahead.push(line);
    else {
      const take = waiting;
      waiting = null;
      take(line);
    }
  });
  lines.on('SIGINT', () => {
    interrupted = true;
    lines.close();
  });
  lines.on('close', () => {
    closed = true;
    waiting?.(null);
    waiting = null;
  });
  return {
    ask: (prompt) => {
      // Typed ahead counts until he left; what he typed before leaving is not acted on.
      if (closed) return Promise.resolve(null);
      lines.setPrompt(`${prompt} `);
      lines.prompt();
      const line = ahead.shift();
      if (line !== undefined) {
        process.stderr.write('\n');
        return Promise.resolve(line);
      }
      return new Promise((resolve) => {
        waiting = resolve;
      });
    },
    say: (text) => {
      const width = Math.max(40, (process.stderr.columns ?? 80) - 1);
      for (const line of text.split('\n')) {
        const indent = /^ */.exec(line)?.[0] ?? '';
        // A list in columns is as wide as it is; sentences are broken and stay indented.
        const broken = line.length <= width ? [line.trimStart()] : wrapText(line.trimStart(), width - indent.length);
        process.stderr.write(`${broken.map((part) => `${indent}${part}`.trimEnd()).join('\n')}\n`);
      }
    },
    interrupted: () => interrupted,
    end: () => lines.close(),
  };
};
