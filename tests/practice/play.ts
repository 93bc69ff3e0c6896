import { Command } from 'commander';
import type { PracticeOptions } from '../../src/commands/practice/options.js';
import { practice, practiceOptions } from '../../src/commands/practice.js';

// holdreg practice on its own, from source: what the pseudo-terminal tests start.
const command = practiceOptions(new Command('practice').requiredOption('--data <DIR>'));
command.action(async (options: PracticeOptions) => {
  const code = await practice(options, {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
  });
  process.exit(code);
});
void command.parseAsync(process.argv.slice(2), { from: 'user' });
