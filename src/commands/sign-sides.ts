import { AXES, type Axis } from '../core/axis.js';
import { parseKeyed } from '../core/reading.js';
import { fail, ok, type Result } from '../core/result.js';
import type { HandoverView } from '../core/views/handover-view.js';
import type { Signing } from '../core/views/sign-records.js';
import type { SignQuestion, SignSheet } from '../core/views/sign-sheet.js';
import { crossCheck, outgoingQuestions } from '../report/sign-questions.js';
import type { Runtime } from '../runtime.js';
import type { Dialogue } from './dialogue.js';

export type SignOptions = {
  readonly data: string;
  readonly run?: string;
  readonly json?: boolean;
  readonly counter?: string;
  /** Who hands over; asked when not given. */
  readonly outgoing?: string;
  /** `TOPIC=TEXT`, TOPIC a number or the beginning of a question's topic. */
  readonly answer?: readonly string[];
  /** Who takes over. */
  readonly incoming?: string;
  readonly nobody?: boolean;
  /** `all`, `none`, or numbers of the points that were read back: `1,3`. */
  readonly ticked?: string;
  /** The re-reading, as keyed: `5A:12O`. */
  readonly reread?: string;
};

type Incoming = NonNullable<Signing['incoming']>;

/** The outgoing operator: a name, then at most five questions; Enter leaves one open. */
export const outgoingSide = async (
  runtime: Runtime,
  view: HandoverView,
  options: SignOptions,
  dialogue: Dialogue | null,
): Promise<Result<Pick<Signing, 'outgoing' | 'answers'>>> => {
  const questions = outgoingQuestions(view);
  const given = answersGiven(questions, options.answer ?? []);
  if (!given.ok) return given;
  const known = runtime.operator();
  const outgoing =
    options.outgoing ?? (await name(dialogue, `Who hands over?${known === '' ? '' : ` Enter = ${known}:`}`, known));
  if (outgoing === null) return LEFT;
  if (outgoing === '') return fail('who hands over? Give it with --outgoing NAME; nothing was recorded');
  const answers: { question: SignQuestion; answer: string }[] = [];
  for (const [index, question] of questions.entries()) {
    const before = given.value.get(question.about);
    const answer =
      before ??
      (dialogue === null || options.answer !== undefined
        ? ''
        : await dialogue.ask(`${index + 1}/${questions.length} ${question.ask} (Enter: nothing)\n>`));
    if (answer === null) return LEFT;
    answers.push({ question, answer });
  }
  return ok({ outgoing, answers });
};

/** The incoming operator: reads back the open points, re-reads the one station that matters most, signs. null = nobody takes over. */
export const incomingSide = async (
  runtime: Runtime,
  view: HandoverView,
  options: SignOptions,
  dialogue: Dialogue | null,
): Promise<Result<Incoming | null>> => {
  if (options.nobody === true && options.incoming !== undefined)
    return fail('--nobody and --incoming exclude each other; nothing was recorded');
  if (options.nobody === true) return ok(null);
  const incoming = options.incoming ?? (await name(dialogue, 'Who takes over? Enter = nobody:', ''));
  if (incoming === null) return LEFT;
  if (incoming === '')
    return dialogue === null
      ? fail('who takes over? Give it with --incoming NAME, or say --nobody; nothing was recorded')
      : ok(null);
  const check = crossCheck(view);
  const ticked = await tick(check, options.ticked, dialogue);
  if (!ticked.ok) return ticked;
  const reread = await readAgain(runtime, view, check, options.reread, dialogue);
  if (!reread.ok) return reread;
  if (dialogue !== null && options.incoming === undefined) {
    const signed = await dialogue.ask(`${incoming}, sign with your name or initials (Enter: do not sign):`);
    if (signed === null || signed === '') return LEFT;
    return ok({ name: signed, ticked: ticked.value, reread: reread.value });
  }
  return ok({ name: incoming, ticked: ticked.value, reread: reread.value });
};

const LEFT = fail('left without signing; nothing was recorded');

const name = async (dialogue: Dialogue | null, question: string, otherwise: string): Promise<string | null> => {
  if (dialogue === null) return otherwise;
  const typed = await dialogue.ask(question);
  return typed === '' ? otherwise : typed;
};

const answersGiven = (
  questions: readonly SignQuestion[],
  given: readonly string[],
): Result<ReadonlyMap<string, string>> => {
  const answers = new Map<string, string>();
  for (const one of given) {
    const at = one.indexOf('=');
    const topic = one.slice(0, Math.max(0, at)).trim().toLowerCase();
    const question = questions.find(
      ({ about }, index) => topic !== '' && (topic === String(index + 1) || about.toLowerCase().startsWith(topic)),
    );
    if (question === undefined)
      return fail(
        `--answer "${one.slice(0, 60)}" answers none of the questions; write TOPIC=TEXT with a topic of ${questions.map(({ about }, index) => `${index + 1} ${about}`).join(', ')}`,
      );
    answers.set(question.about, one.slice(at + 1));
  }
  return ok(answers);
};

const tick = async (
  { points }: Pick<SignSheet, 'points'>,
  given: string | undefined,
  dialogue: Dialogue | null,
): Promise<Result<readonly boolean[]>> => {
  if (given === 'all') return ok(points.map(() => true));
  if (given === undefined && dialogue !== null) {
    const ticked: boolean[] = [];
    dialogue.say('Read each point back aloud; y when it was read back and understood.');
    for (const [index, point] of points.entries()) {
      const answer = await dialogue.ask(`${index + 1}/${points.length} ${point} [y]`);
      if (answer === null) return LEFT;
      ticked.push(/^(y|yes)$/i.test(answer));
    }
    return ok(ticked);
  }
  const numbers = given === undefined || given === 'none' ? [] : given.split(',').map(Number);
  const wrong = numbers.find((n) => !Number.isInteger(n) || n < 1 || n > points.length);
  return wrong === undefined
    ? ok(points.map((_, index) => numbers.includes(index + 1)))
    : fail(`--ticked "${given}": say all, none, or numbers from 1 to ${points.length} as 1,3`);
};

const readAgain = async (
  runtime: Runtime,
  view: HandoverView,
  { reread }: Pick<SignSheet, 'reread'>,
  given: string | undefined,
  dialogue: Dialogue | null,
): Promise<Result<Incoming['reread']>> => {
  const station = view.board.stations.find((s) => s.id === reread?.station);
  if (reread === null || station === undefined)
    return given === undefined
      ? ok(null)
      : fail('--reread: no station can be read again now: none is measured, or the run has ended');
  const { register } = view.board.units;
  const parts = given?.split(':');
  if (parts !== undefined && parts.length > 2) return fail(`--reread "${given}": along and across, as 5A:12O`);
  if (parts === undefined && dialogue !== null)
    dialogue.say(`Pull a sample and read ${reread.label} again (${reread.why}).`);
  const read: Record<Axis, number | null> = { along: null, across: null };
  for (const [index, axis] of AXES.entries()) {
    if (parts !== undefined || dialogue === null) {
      const mm = parseKeyed(parts?.[index] ?? '', register, axis);
      if (!mm.ok) return fail(`--reread "${given}": ${mm.problem.message}`);
      read[axis] = mm.value.mm;
      continue;
    }
    if (station.axes[axis].fixed) continue;
    const mm = await readAxis(runtime, station.id, axis, register, dialogue);
    if (!mm.ok) return mm;
    read[axis] = mm.value;
  }
  return ok(
    read.along === null && read.across === null
      ? null
      : { station: station.id, along_mm: read.along, across_mm: read.across },
  );
};

const readAxis = async (
  runtime: Runtime,
  station: string,
  axis: Axis,
  unit: Parameters<typeof parseKeyed>[1],
  dialogue: Dialogue,
): Promise<Result<number | null>> => {
  let doubted: number | null = null;
  for (;;) {
    const typed = await dialogue.ask(
      `  ${axis} (as ${axis === 'along' ? '5A or 5B' : '12O or 12G'}; Enter: not read):`,
    );
    if (typed === null) return LEFT;
    const mm = parseKeyed(typed, unit, axis);
    if (!mm.ok) {
      dialogue.say(`  ${mm.problem.message}`);
      continue;
    }
    const doubt = mm.value.mm === null ? null : runtime.doubt(station, axis, mm.value.mm);
    if (doubt === null || doubted === mm.value.mm) return ok(mm.value.mm);
    doubted = mm.value.mm;
    dialogue.say(`  ${doubt} Key it again to keep it.`);
  }
};
