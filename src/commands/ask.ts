import { createInterface } from 'node:readline/promises';
import { fail, ok, type Result } from '../core/result.js';

/** Asks the operator for what the command line did not give; from a script that is a refusal that names the option. */
export const ask = async (given: string | undefined, question: string, option: string): Promise<Result<string>> => {
  if (given !== undefined && given.trim() !== '') return ok(given.trim());
  if (!process.stdin.isTTY) return fail(`${question} Give it with ${option}.`);
  const lines = createInterface({ input: process.stdin, output: process.stderr });
  try {
    const answer = (await lines.question(`${question} `)).trim();
    return answer === '' ? fail(`nothing was entered; nothing was recorded`) : ok(answer);
  } finally {
    lines.close();
  }
};

/** Asks for what need not be known: Enter alone passes, and so does a script. */
export const askMaybe = async (question: string): Promise<string> => {
  if (!process.stdin.isTTY) return '';
  const lines = createInterface({ input: process.stdin, output: process.stderr });
  try {
    return (await lines.question(`${question} `)).trim();
  } finally {
    lines.close();
  }
};
