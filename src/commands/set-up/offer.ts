import type { Press } from '../../core/press.js';
import { quoted } from '../../core/quoted.js';
import type { ShopData } from '../../store/shop-data.js';
import { type KnownJob, type KnownPress, knownJob, knownPress, readable } from './known-setups.js';
import type { OperatorLines } from './operator-lines.js';

/** What to start from. `as is`: both files as they stand. null = to be asked from the beginning. */
export type StartFrom =
  | { readonly kind: 'as is'; readonly press: KnownPress; readonly job: KnownJob }
  | {
      readonly kind: 'ask';
      readonly press: KnownPress | null;
      readonly job: KnownJob | null;
      readonly askPress: boolean;
    };

/** Yesterday's press and job first: as they are, changed, another job on the press, another press, or all new. null = he left. */
export const offerKnown = async (data: ShopData, lines: OperatorLines): Promise<StartFrom | null> => {
  const presses = readable(data.presses, knownPress, ({ press }) => press.name);
  const [lastPress, lastJob] = [data.presses[0], data.jobs[0]];
  if (lastPress !== undefined) {
    const press = knownPress(lastPress);
    const job = press.ok && lastJob !== undefined ? knownJob(lastJob, press.value.press) : null;
    if (press.ok && job?.ok === true) return offerLast(data, presses, press.value, job.value, lines);
    const trouble = press.ok ? job : press;
    if (trouble !== null && !trouble.ok)
      lines.say(`What was used last cannot be used again: ${trouble.problem.message}`);
  }
  return choosePress(data, presses, lines);
};

/** A job on a press that is settled: one that ran on it before, or a new one. null = he left. */
export const offerJobs = async (
  data: ShopData,
  press: Press,
  lines: OperatorLines,
): Promise<KnownJob | 'new' | null> => {
  const jobs = readable(
    data.jobs,
    (one) => knownJob(one, press),
    ({ job }) => job.name,
  ).slice(0, 9);
  if (jobs.length === 0) return 'new';
  lines.say(`Jobs that fit ${press.name}:`);
  return choose(jobs, ({ job, used }) => `${job.name}${day(used)}`, 'a new job', lines);
};

const offerLast = async (
  data: ShopData,
  presses: readonly KnownPress[],
  press: KnownPress,
  job: KnownJob,
  lines: OperatorLines,
): Promise<StartFrom | null> => {
  const others = presses.filter((one) => one.press.name !== press.press.name);
  lines.say(`Last time: ${job.job.name} on ${press.press.name}${day(job.used)}.`);
  const choices: readonly (readonly [string, string])[] = [
    ['y', 'use both again as they are'],
    ['c', 'change something'],
    ['j', `another job on ${press.press.name}`],
    ...(others.length === 0 ? [] : ([['p', 'another press']] as const)),
    ['n', 'all new'],
  ];
  for (const [key, words] of choices) lines.say(`  ${key}  ${words}`);
  const letter = await chooseLetter(
    choices.map(([key]) => key),
    'y',
    lines,
  );
  if (letter === null) return null;
  if (letter === 'y') return { kind: 'as is', press, job };
  if (letter === 'c') return { kind: 'ask', press, job, askPress: true };
  if (letter === 'n') return { kind: 'ask', press: null, job: null, askPress: true };
  return letter === 'j' ? chooseJob(data, press, lines) : choosePress(data, others, lines);
};

const choosePress = async (
  data: ShopData,
  presses: readonly KnownPress[],
  lines: OperatorLines,
): Promise<StartFrom | null> => {
  const fresh: StartFrom = { kind: 'ask', press: null, job: null, askPress: true };
  if (presses.length === 0) return fresh;
  lines.say('Presses used before:');
  const press = await choose(presses.slice(0, 9), (one) => `${one.press.name}${day(one.used)}`, 'a new press', lines);
  if (press === null) return null;
  return press === 'new' ? fresh : chooseJob(data, press, lines);
};

const chooseJob = async (data: ShopData, press: KnownPress, lines: OperatorLines): Promise<StartFrom | null> => {
  const job = await offerJobs(data, press.press, lines);
  if (job === null) return null;
  return job === 'new' ? { kind: 'ask', press, job: null, askPress: false } : { kind: 'as is', press, job };
};

const choose = async <T>(
  known: readonly T[],
  nameOf: (one: T) => string,
  fresh: string,
  lines: OperatorLines,
): Promise<T | 'new' | null> => {
  for (const [index, one] of known.entries()) lines.say(`  ${index + 1}  ${nameOf(one)}`);
  lines.say(`  n  ${fresh}`);
  const letter = await chooseLetter([...known.map((_, index) => String(index + 1)), 'n'], '1', lines);
  if (letter === null) return null;
  return letter === 'n' ? 'new' : (known[Number(letter) - 1] ?? 'new');
};

const chooseLetter = async (
  letters: readonly string[],
  usual: string,
  lines: OperatorLines,
): Promise<string | null> => {
  for (;;) {
    const typed = await lines.ask(`Which? [${usual}]`);
    if (typed === null) return null;
    const letter = typed.trim().toLowerCase() || usual;
    if (letters.includes(letter)) return letter;
    lines.say(`${quoted(typed.trim())} is not one of ${letters.join(', ')}`);
  }
};

/** Text from a file that an operator may have edited: only a day is shown of it. */
const day = (used: string): string => (/^\d{4}-\d\d-\d\d/.test(used) ? `, ${used.slice(0, 10)}` : '');
