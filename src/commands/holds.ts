import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { webAtCounter } from '../core/counter.js';
import { jsonWithCodes } from '../core/hidden-characters.js';
import { nearest } from '../core/nearest.js';
import { type People, readPeople, releaseRefusal } from '../core/people.js';
import type { HoldState, RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { lengthToM } from '../core/units.js';
import { atCounter, placesOf } from '../core/views/at-counter.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { holdTags } from '../report/hold-tags.js';
import { holdTagsHtml, holdTagsText } from '../report/hold-tags-html.js';
import { holdsJson, holdsMarkdown, holdsText } from '../report/holds-list.js';
import { plainWords } from '../report/plain-words.js';
import { handoverOf } from '../runtime/handover-of.js';
import { openRun } from '../runtime.js';
import { ask } from './ask.js';
import { BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { findRunToRead } from './find-run.js';
import { codeFor } from './problem-code.js';
import { readText } from './read-setup.js';
import { withProgress } from './with-progress.js';

export type HoldsOptions = {
  readonly data: string;
  readonly run?: string;
  readonly by?: string;
  /** Who releases beside `by`. */
  readonly second?: string;
  readonly note?: string;
  /** With keep: counters between which product is held. */
  readonly from?: string;
  readonly to?: string;
  readonly tags?: boolean;
  readonly format?: string;
  readonly json?: boolean;
};

const STATES: readonly HoldState[] = ['hold', 're-inspect', 'released', 'reworked', 'scrapped'];

/** Lists held product, prints its tags, or puts held rolls in another state. */
export const holds = async (
  state: string | undefined,
  rolls: readonly string[],
  options: HoldsOptions,
  io: Io,
): Promise<Exit> => {
  const folder = findRunToRead(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  if (state !== undefined) return await setState(folder.value, state, rolls, options, io);
  const formats = options.tags === true ? TAGS : LIST;
  const format = options.json === true ? 'json' : (options.format ?? (options.tags === true ? 'html' : 'txt'));
  const print = formats[format];
  if (print === undefined) return refuse(io, `--format "${format}" is none of ${Object.keys(formats).join(', ')}`, BAD);
  const view = await withProgress(io, (progress) =>
    handoverOf(folder.value, Date.now(), { since: null, charts: false, progress }),
  );
  if (!view.ok) return refuse(io, view.problem.message, MACHINE);
  io.out(print(view.value));
  return OK;
};

type Formats = Readonly<Record<string, (view: HandoverView) => string>>;

const width = (): number => (process.stdout.isTTY ? process.stdout.columns : 100);
const LIST: Formats = { txt: (view) => holdsText(view, width()), md: holdsMarkdown, json: holdsJson };
const TAGS: Formats = { html: holdTagsHtml, txt: (view) => holdTagsText(view, width()) };

const setState = async (
  folder: string,
  word: string,
  rolls: readonly string[],
  options: HoldsOptions,
  io: Io,
): Promise<Exit> => {
  if (word.toLowerCase() === 'keep') return await keep(folder, rolls, options, io);
  const state = STATES.find((known) => known === word.toLowerCase());
  if (state === undefined) {
    const near = nearest(word, [...STATES, 'keep']);
    return refuse(
      io,
      `"${plainWords(word)}" is no state of held product${near === null ? '' : `; did you mean ${near}?`} Say ${STATES.join(', ')}, or keep, then the rolls`,
      BAD,
    );
  }
  if (rolls.length === 0) return refuse(io, `which rolls? holdreg holds ${state} ROLL...`, BAD);
  const by = await ask(options.by, 'Who are you (name or initials)?', '--by NAME');
  if (!by.ok) return refuse(io, by.problem.message, BAD);
  const second =
    state === 'released' || options.second !== undefined
      ? await ask(options.second, 'Two persons release. Who is the second?', '--second NAME')
      : null;
  if (second !== null && !second.ok) return refuse(io, second.problem.message, BAD);
  if (state === 'released' && second?.ok === true) {
    const people = peopleOf(options.data);
    if (!people.ok) return refuse(io, people.problem.message, BAD);
    const why = releaseRefusal(by.value, second.value, people.value);
    if (why !== null) return refuse(io, `${plainWords(why)}; nothing was recorded`, BAD);
  }
  const view = await withProgress(io, (progress) =>
    handoverOf(folder, Date.now(), { since: null, charts: false, progress }),
  );
  if (!view.ok) return refuse(io, view.problem.message, MACHINE);
  const bodies = records(view.value, state, rolls, {
    ...(second?.ok === true ? { by_second: second.value } : {}),
    ...(options.note === undefined ? {} : { note: options.note }),
  });
  if (!bodies.ok) return refuse(io, bodies.problem.message, BAD);
  return await write(folder, bodies.value, by.value, options, io);
};

/** Product that a person holds, whatever was read: rolls, a stretch (by the counter as the press shows it), or a stretch of rolls. */
const keep = async (folder: string, rolls: readonly string[], options: HoldsOptions, io: Io): Promise<Exit> => {
  const by = await ask(options.by, 'Who are you (name or initials)?', '--by NAME');
  if (!by.ok) return refuse(io, by.problem.message, BAD);
  const why = await ask(options.note, 'Why is it held?', '--note TEXT');
  if (!why.ok) return refuse(io, why.problem.message, BAD);
  const view = await withProgress(io, (progress) =>
    handoverOf(folder, Date.now(), { since: null, charts: false, progress }),
  );
  if (!view.ok) return refuse(io, view.problem.message, MACHINE);
  const { board } = view.value;
  const { counters = [], length, repeat_mm } = placesOf(board);
  const place = (typed: string | undefined, option: string): Result<number | null> => {
    if (typed === undefined) return ok(null);
    const shown = Number(typed.replace(/[\s\u00A0\u202F']/g, '').replace(',', '.'));
    return Number.isFinite(shown) && typed.trim() !== ''
      ? ok(webAtCounter(lengthToM(shown, length, repeat_mm), counters, board.position.web_m ?? 0))
      : fail(`${option} "${plainWords(typed)}" is not a counter: digits, in ${length}, as the job counts`);
  };
  const from = place(options.from, '--from');
  if (!from.ok) return refuse(io, from.problem.message, BAD);
  const to = place(options.to, '--to');
  if (!to.ok) return refuse(io, to.problem.message, BAD);
  const body: RecordBody = { type: 'held', rolls: [...rolls], from_m: from.value, to_m: to.value, why: why.value };
  return await write(folder, [body], by.value, options, io);
};

/** The shop's list of people, where it keeps one. */
const peopleOf = (data: string): Result<People | null> => {
  const file = join(data, 'people.json');
  if (!existsSync(file)) return ok(null);
  const text = readText(file);
  return text.ok ? readPeople(text.value, file) : text;
};

/** One record for each stretch of each roll. */
const records = (
  view: HandoverView,
  state: HoldState,
  rolls: readonly string[],
  more: { readonly by_second?: string; readonly note?: string },
): Result<readonly RecordBody[]> => {
  const tags = holdTags(view);
  const held = [...new Set(tags.map(({ roll }) => roll))];
  const bodies: RecordBody[] = [];
  for (const roll of new Set(rolls)) {
    const own = tags.filter((tag) => tag.roll === roll);
    if (own.length === 0)
      return fail(
        `roll "${plainWords(roll)}" is not on hold in run ${view.board.run}; ${held.length === 0 ? 'nothing is' : `held: ${held.map(plainWords).join(', ')}`} (another run: --run ID)`,
      );
    for (const { from_m, to_m } of own) {
      if (to_m === null)
        return fail(
          `roll ${plainWords(roll)} is still being held from ${atCounter(from_m, view.board)} on: its stretch goes on until a check is good again or the roll is off`,
        );
      bodies.push({ type: 'hold', from_m, to_m, rolls: [roll], state, ...more });
    }
  }
  return ok(bodies);
};

const write = async (
  folder: string,
  bodies: readonly RecordBody[],
  by: string,
  options: HoldsOptions,
  io: Io,
): Promise<Exit> => {
  const opened = await withProgress(io, (progress) => openRun(folder, { operator: by, progress }));
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  const runtime = opened.value;
  try {
    if (runtime.readOnly !== null)
      return refuse(io, `run ${runtime.state().run} is ${runtime.readOnly}; close it there first`, NO);
    for (const [index, body] of bodies.entries()) {
      const wrote = await runtime.submit(body, { by });
      if (!wrote.ok)
        return refuse(
          io,
          `run ${runtime.state().run}: ${wrote.problem.message}${index === 0 ? ' Nothing was recorded.' : ` ${index} of ${bodies.length} were recorded before it.`}`,
          codeFor(wrote.problem),
        );
      if (options.json === true) io.out(`${jsonWithCodes({ run: runtime.state().run, ...wrote.value })}\n`);
      else if (body.type === 'held')
        io.out(
          `Run ${runtime.state().run}: on hold: ${body.rolls.length === 0 ? 'the stretch' : `roll ${plainWords(body.rolls.join(', '))}`}: ${plainWords(body.why)}\n`,
        );
      else if (body.type === 'hold')
        io.out(
          `Run ${runtime.state().run}: roll ${plainWords(body.rolls.join(', '))}, ${atCounter(body.from_m, runtime.board())} to ${atCounter(body.to_m, runtime.board())}: ${body.state}.\n`,
        );
    }
    return OK;
  } finally {
    await runtime.close();
  }
};
