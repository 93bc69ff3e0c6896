import { Command } from 'commander';
import type { Result } from '../core/result.js';
import { LISTENS, METHODS, methodWord, runStatsMethod } from '../core/spc/run-method.js';
import type { StatsAnswer } from '../core/spc/stats/document.js';
import { flag, readOptions } from '../core/spc/stats/options.js';
import { RULE_WORDS } from '../core/spc/zone-rules.js';
import { plainText } from './stats/plain-text.js';
import { readTable } from './stats/read-table.js';

/** Where words go: answers out, trouble and remarks err. */
export type StatsIo = { readonly out: (text: string) => void; readonly err: (text: string) => void };

/** `holdreg stats METHOD FILE.csv`: one statistical method on a column of numbers. */
export const statsCommand = (): Command =>
  new Command('stats')
    .description('one statistical method on a column of numbers in a CSV file')
    .argument('<method>', METHODS.join(', '))
    .argument('[file]', 'CSV with a header (- reads standard input); none for runlength, nor with --mean --sd --n')
    .option('--column <name>', 'column of values (default: the first numeric one)')
    .option('--group <column>', 'column that says which readings were taken together')
    .option('--target <value>', 'aim of the process (default: the mean)')
    .option('--sigma <value>', 'known scatter (default: from the readings)')
    .option('--weight <value>', 'ewma: weight of the newest reading, above 0 and at most 1 (default: 0.2)')
    .option('--width <sigmas>', 'how many sigmas limits stand from the centre (default: 3)')
    .option('--slack <sigmas>', 'cusum: slack (default: 0.5)')
    .option('--decision <sigmas>', 'cusum: decision limit (default: 5)')
    .option('--head-start <sigmas>', 'cusum, ewma: head start (default: 0)')
    .option('--sides <1|2>', 'watch for a rise only, or both ways (default: 2)')
    .option('--rules <words>', 'zone rules and run tests, separated by commas (default: beyond-limits)')
    .option('--size <number|column>', 'u, p: labels or items inspected')
    .option('--limits <fixed|exact>', 'ewma, c, u, p: fixed or exact limits (default: exact)')
    .option('--lower <value>', 'lower end of the tolerance')
    .option('--upper <value>', 'upper end of the tolerance')
    .option('--part <column>', 'gauge: column of parts (default: part)')
    .option('--operator <column>', 'gauge: column of operators (default: operator)')
    .option('--mean <value>', 'capability without a file: mean')
    .option('--sd <value>', 'capability without a file: standard deviation')
    .option('--n <count>', 'capability without a file: number of readings')
    .option('--chart <word>', 'runlength: individuals, zone, ewma, cusum or changepoint')
    .option('--shift <sigmas>', 'runlength: lasting shifts, separated by commas')
    .option('--drift <sigmas>', 'runlength: drifts a reading, separated by commas')
    .option('--asked <readings>', 'runlength: find the limit that gives this run length with nothing wrong')
    .option('--json', 'one JSON document on standard output')
    .option('--data <DIR>', 'data folder; taken as by every command, nothing is read there')
    .addHelpText('after', HELP)
    .exitOverride((error) => process.exit(error.exitCode === 0 ? 0 : BAD_USE))
    .action(async (method: string, file: string | undefined, typed: Readonly<Record<string, unknown>>) => {
      const { data: _data, ...options } = typed;
      process.exitCode = await runStats(method, file, options, {
        out: (text) => process.stdout.write(text),
        err: (text) => process.stderr.write(text),
      });
    });

const HELP = `
Rules: ${RULE_WORDS.join(', ')}

Examples:
  stats individuals readings.csv --column along_mm --rules beyond-limits,eight-one-side
  stats u flaws.csv --column flaws --size labels
  stats capability readings.csv --column along_mm --lower -0.15 --upper 0.15
  stats gauge study.csv --part label --operator by --lower -0.15 --upper 0.15
  stats runlength --chart ewma --weight 0.2 --asked 370

A blank cell is a missing value and keeps its place. Exit code: 0 answered, 1 the answer is no, 2 bad use or input.`;

/** Runs one method and says what it found; gives the exit code: 0 answered, 1 the answer is no, 2 bad use or input. */
export const runStats = async (
  method: string,
  file: string | undefined,
  typed: Readonly<Record<string, unknown>>,
  io: StatsIo,
): Promise<number> => {
  const answered = answerOf(method, file, typed, io);
  if (!answered.ok) {
    const { message, where } = answered.problem;
    io.err(`${where === undefined ? '' : `${where}: `}${message}\n`);
    return BAD_USE;
  }
  const { document, refusal } = answered.value;
  io.out(typed.json === true ? `${JSON.stringify(document)}\n` : plainText(document));
  if (refusal === undefined) return 0;
  io.err(`${refusal}\n`);
  return ANSWER_IS_NO;
};

const ANSWER_IS_NO = 1;
const BAD_USE = 2;

const answerOf = (
  typedMethod: string,
  file: string | undefined,
  typed: Readonly<Record<string, unknown>>,
  io: StatsIo,
): Result<StatsAnswer> => {
  const method = methodWord(typedMethod);
  if (!method.ok) return method;
  const options = readOptions(typed);
  if (!options.ok) return options;
  const table = file === undefined || method.value === 'runlength' ? null : readTable(file);
  if (table !== null && !table.ok) return table;
  const answer = runStatsMethod(method.value, options.value, table === null ? null : table.value);
  if (answer.ok && file !== undefined && table === null)
    io.err(`${method.value} reads no file: ${file} left out of account\n`);
  if (answer.ok) {
    const listens: readonly string[] = [...LISTENS[method.value], 'column'];
    const deaf = Object.keys(options.value).filter((name) => !listens.includes(name));
    if (deaf.length > 0) io.err(`${method.value} takes no ${deaf.map(flag).join(', ')}: left out of account\n`);
  }
  return answer;
};
