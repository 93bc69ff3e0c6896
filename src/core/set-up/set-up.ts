import { readJob } from '../job-file.js';
import type { JobFile } from '../job-schema.js';
import type { Press } from '../press.js';
import { readPress } from '../press-file.js';
import type { PressFile } from '../press-schema.js';
import { quoted } from '../quoted.js';
import type { Result } from '../result.js';
import { jobDocument } from './job-document.js';
import { jobQuestions } from './job-questions.js';
import { keptBeyond } from './kept-beyond.js';
import { dieIdOf, pressDocument } from './press-document.js';
import { pressQuestions } from './press-questions.js';
import type { Answers, Question } from './question.js';
import { reviewLines } from './review-lines.js';
import { settleAnswers } from './settle-answers.js';

/** What is known before the first question. */
export type Given = {
  /** The press, where it is not asked; null = it is. */
  readonly press: Press | null;
  /** Earlier files of this press and this job: what they say beyond the questions is kept. */
  readonly pressFile: PressFile | null;
  readonly jobFile: JobFile | null;
};

/** A set-up under way: plain data, one typed line further at a time. */
export type SetUp = {
  readonly given: Given;
  readonly answers: Answers;
  /** What a question that is asked again offers. */
  readonly remembered: Answers;
};

/** `leave`: without anything made. `press` null = it was given. */
export type SetUpDone = 'leave' | { readonly press: PressFile | null; readonly job: JobFile };

export type SetUpStep = { readonly state: SetUp; readonly say: readonly string[]; readonly done: SetUpDone | null };

/** A set-up with the answers of earlier files, or with none. */
export const beginSetUp = (given: Given, answers: Answers = {}): SetUp => ({
  given,
  answers: settleAnswers((some) => questionsOf(given, some), answers),
  remembered: answers,
});

/** What stands before the cursor: the next question, or what to do with the list of answers. */
export const promptOf = (state: SetUp): string => {
  const question = asked(state);
  if (question === null) return 'Right? Enter = write and start, a number = change that answer, q = leave';
  const usual = usualOf(state, question);
  return `${question.ask}${usual === null ? '' : ` [${usual === 'y' ? 'yes' : usual === 'n' ? 'no' : usual}]`}`;
};

/** What is said above the prompt: all answers, once there is nothing more to ask. */
export const sayOf = (state: SetUp): readonly string[] => {
  if (asked(state) !== null) return [];
  const kept = keptBeyond(state.given.press === null ? state.given.pressFile : null, state.given.jobFile);
  const answers = reviewLines(questionsOf(state.given, state.answers), state.answers);
  return ['', ...answers, ...(kept === '' ? [] : [kept]), ''];
};

/** One typed line further. A line that is not understood changes nothing, and the same is asked again. */
export const stepSetUp = (state: SetUp, typed: string): SetUpStep => {
  const text = typed.trim();
  const question = asked(state);
  if (question === null) return reviewed(state, text);
  const stay = (...say: readonly string[]): SetUpStep => ({ state, say, done: null });
  if (text === '?') return stay(question.more);
  if (text === '<') return back(state);
  const usual = usualOf(state, question);
  if (text === '' && usual === null) return stay('an answer is needed here (? explains, < goes back)');
  const read = question.understand(text === '' ? (usual ?? '') : text);
  if (!read.ok) return stay(read.problem.message);
  const given = { ...state.answers, [question.key]: read.value.text };
  const answers = settleAnswers((some) => questionsOf(state.given, some), { ...state.remembered, ...given });
  const next: SetUp = { ...state, answers, remembered: { ...state.remembered, ...given } };
  return { state: next, say: read.value.said === undefined ? [] : [`= ${read.value.said}`], done: null };
};

/** Every question there is, as far as the answers show. */
export const questionsOf = ({ press, pressFile, jobFile: _ }: Given, answers: Answers): readonly Question[] => {
  if (press !== null) return jobQuestions(answers, press);
  const questions = pressQuestions(answers, dieIdOf(pressFile));
  if (questions.some(({ key }) => answers[key] === undefined)) return questions;
  const made = pressMade(answers, pressFile);
  return made?.ok === true ? [...questions, ...jobQuestions(answers, made.value)] : questions;
};

const pressMade = (answers: Answers, before: PressFile | null): Result<Press> | null => {
  const file = pressDocument(answers, before);
  return file === null ? null : readPress(JSON.stringify(file), 'press');
};

const asked = (state: SetUp): Question | null =>
  questionsOf(state.given, state.answers).find(({ key }) => state.answers[key] === undefined) ?? null;

/** What was answered before, as long as it is still an answer; else what is usual. */
const usualOf = (state: SetUp, question: Question): string | null => {
  const before = state.remembered[question.key];
  return before !== undefined && question.understand(before).ok ? before : question.usual;
};

const reviewed = (state: SetUp, text: string): SetUpStep => {
  const stay = (...say: readonly string[]): SetUpStep => ({ state, say, done: null });
  const questions = questionsOf(state.given, state.answers);
  if (/^(q|quit|leave)$/i.test(text)) return { state, say: [], done: 'leave' };
  if (text === '<') return back(state);
  if (text === '?')
    return stay(
      'Each number changes the answer beside it; what no longer fits is asked again. Nothing is written until Enter.',
    );
  const chosen = /^\d{1,3}$/.test(text) ? questions[Number(text) - 1] : undefined;
  if (chosen !== undefined) return { state: without(state, chosen.key), say: [], done: null };
  if (text !== '' && !/^y(es)?$/i.test(text))
    return stay(`${quoted(text)} is neither Enter, a number from 1 to ${questions.length}, nor q`);
  return finished(state);
};

const finished = (state: SetUp): SetUpStep => {
  const stay = (say: string): SetUpStep => ({ state, say: [say], done: null });
  const { given, answers } = state;
  const pressFile = given.press === null ? pressDocument(answers, given.pressFile) : null;
  const press = given.press ?? (pressFile === null ? null : readPress(JSON.stringify(pressFile), 'press'));
  if (press === null) return stay('the press is not fully answered');
  if ('ok' in press && !press.ok) return stay(press.problem.message);
  const known = 'ok' in press ? press.value : press;
  const job = jobDocument(answers, known, given.jobFile);
  if (job === null) return stay('the job is not fully answered');
  const read = readJob(JSON.stringify(job), 'job', known);
  return read.ok ? { state, say: [], done: { press: pressFile, job } } : stay(read.problem.message);
};

const without = (state: SetUp, key: string): SetUp => {
  const { [key]: _, ...rest } = state.answers;
  return { ...state, answers: rest, remembered: { ...state.remembered, ...state.answers } };
};

const back = (state: SetUp): SetUpStep => {
  const questions = questionsOf(state.given, state.answers);
  const at = questions.findIndex(({ key }) => state.answers[key] === undefined);
  const before = questions[(at < 0 ? questions.length : at) - 1];
  return before === undefined
    ? { state, say: ['this is the first question'], done: null }
    : { state: without(state, before.key), say: [], done: null };
};
