import { existsSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { readJob } from '../core/job-file.js';
import { readPress } from '../core/press-file.js';
import { ok, type Result } from '../core/result.js';
import { jobAnswers } from '../core/set-up/job-answers.js';
import { pressAnswers } from '../core/set-up/press-answers.js';
import type { Answers } from '../core/set-up/question.js';
import { beginSetUp, type Given, promptOf, type SetUpDone, sayOf, stepSetUp } from '../core/set-up/set-up.js';
import { openShop } from '../store/shop.js';
import { EMPTY_SHOP } from '../store/shop-data.js';
import { type KnownPress, knownPress } from './set-up/known-setups.js';
import { offerJobs, offerKnown, type StartFrom } from './set-up/offer.js';
import { type OperatorLines, openOperatorLines } from './set-up/operator-lines.js';
import { placeFor, type Wanted, writeSetupFile } from './set-up/setup-file.js';

/** The press and job file to start with, or that he left: then nothing was written. */
export type SetUpFiles = { readonly press: string; readonly job: string } | { readonly left: 'ctrl-c' | 'left' };

/** Asks at the terminal for what only the operator knows and writes the press and the job file; offers what was used before. `pressFile`: only the job is asked. */
export const setUp = async (dataDir: string, pressFile: string | undefined): Promise<Result<SetUpFiles>> => {
  const given = pressFile === undefined ? null : knownPress({ path: pressFile, used: '' });
  if (given?.ok === false) return given;
  // A shop file that cannot be read costs the offer of what was used before, not the set-up.
  // Nor is the data folder made before there is anything to write.
  const shop = existsSync(dataDir) ? await openShop(dataDir) : null;
  const data = shop?.ok === true ? shop.value.shop.data() : EMPTY_SHOP;
  const lines = openOperatorLines();
  try {
    const trouble = shop?.ok === true ? shop.value.said : shop?.problem.message;
    if (trouble != null) lines.say(trouble);
    const from = given === null ? await offerKnown(data, lines) : await jobFor(data, given.value, lines);
    const files = from === null ? null : await filesFrom(dataDir, from, lines);
    if (files === null) {
      lines.say('\nLeft. Nothing was written and no run was started.');
      return ok({ left: lines.interrupted() ? 'ctrl-c' : 'left' });
    }
    return files;
  } finally {
    lines.end();
  }
};

const jobFor = async (
  data: Parameters<typeof offerJobs>[0],
  press: KnownPress,
  lines: OperatorLines,
): Promise<StartFrom | null> => {
  const job = await offerJobs(data, press.press, lines);
  if (job === null) return null;
  return job === 'new' ? { kind: 'ask', press, job: null, askPress: false } : { kind: 'as is', press, job };
};

const filesFrom = async (
  dataDir: string,
  from: StartFrom,
  lines: OperatorLines,
): Promise<Result<SetUpFiles> | null> => {
  if (from.kind === 'as is') {
    told(lines, 'press', from.press.path, null);
    told(lines, 'job', from.job.path, null);
    return ok({ press: from.press.path, job: from.job.path });
  }
  const done = await questioned(from, lines);
  if (done === null || done === 'leave') return null;
  const press = done.press === null || from.press === null || !samePress(done.press, from.press) ? done.press : null;
  const wantedPress = press === null ? null : await placeFor(dataDir, 'press', press.name, press, lines);
  if (press !== null && wantedPress === null) return null;
  const sameJob = from.job !== null && press === null && from.press !== null && isSameJob(done.job, from);
  const wantedJob = sameJob ? null : await placeFor(dataDir, 'job', done.job.name, done.job, lines);
  if (!sameJob && wantedJob === null) return null;
  for (const [wanted, document] of [
    [wantedPress, press],
    [wantedJob, done.job],
  ] as const) {
    if (wanted?.write !== true) continue;
    const wrote = await writeSetupFile(wanted.path, document);
    if (!wrote.ok) return wrote;
  }
  const files = { press: wantedPress?.path ?? from.press?.path ?? '', job: wantedJob?.path ?? from.job?.path ?? '' };
  told(lines, 'press', files.press, wantedPress);
  told(lines, 'job', files.job, wantedJob);
  lines.say(
    'What was not asked stands as "not measured" or at its usual value; the files can be edited, for the next run. A knob is measured from the board: d.',
  );
  return ok(files);
};

const told = (lines: OperatorLines, what: string, path: string, wanted: Wanted | null): void =>
  lines.say(
    `${what.padEnd(5)} ${path}${wanted === null || !wanted.write ? ' (as it was)' : wanted.overwrites ? ' (overwritten)' : ' (written)'}`,
  );

/** The questions, until all are answered and found right. null = he left. */
const questioned = async (
  from: Extract<StartFrom, { kind: 'ask' }>,
  lines: OperatorLines,
): Promise<SetUpDone | null> => {
  const known = from.askPress && from.press !== null ? pressAnswers(from.press.file, from.press.press) : null;
  if (from.askPress && from.press !== null && known === null)
    lines.say(
      `${from.press.press.name} has more than one die: only the job is asked here; the press is changed in ${from.press.path}.`,
    );
  const askPress = from.askPress && (from.press === null || known !== null);
  const given: Given = {
    press: askPress ? null : (from.press?.press ?? null),
    pressFile: from.press?.file ?? null,
    jobFile: from.job?.file ?? null,
  };
  const job: Answers =
    from.job === null || from.press === null ? {} : jobAnswers(from.job.file, from.job.job, from.press.press);
  let state = beginSetUp(given, { ...known, ...job });
  lines.say('Enter takes what stands in [brackets]. ? explains, < goes back, Ctrl-C leaves and writes nothing.');
  for (let shown = ''; ; ) {
    const above = sayOf(state).join('\n');
    if (above !== '' && above !== shown) lines.say(above);
    shown = above;
    const typed = await lines.ask(promptOf(state));
    if (typed === null) return null;
    const step = stepSetUp(state, typed);
    for (const text of step.say) lines.say(`  ${text}`);
    if (step.done !== null) return step.done;
    state = step.state;
  }
};

const samePress = (made: object, before: KnownPress): boolean => {
  const read = readPress(JSON.stringify(made), before.path);
  return read.ok && isDeepStrictEqual(read.value, before.press);
};

const isSameJob = (made: object, { press, job }: Extract<StartFrom, { kind: 'ask' }>): boolean => {
  if (press === null || job === null) return false;
  const read = readJob(JSON.stringify(made), job.path, press.press);
  return read.ok && isDeepStrictEqual(read.value, job.job);
};
