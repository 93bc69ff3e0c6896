import { jsonWithCodes } from '../core/hidden-characters.js';
import { fail, ok, type Result } from '../core/result.js';
import { atCounter } from '../core/views/at-counter.js';
import type { HandoverView } from '../core/views/handover-view.js';
import { type Signed, type Signing, signRecords } from '../core/views/sign-records.js';
import { plainWords } from '../report/plain-words.js';
import { renderText } from '../report/render-text.js';
import { thirtySeconds } from '../report/sections/thirty-seconds.js';
import { signSheet } from '../report/sign-questions.js';
import { tellingOf } from '../report/telling.js';
import { withPaper } from '../runtime/paper-of.js';
import { openRun, type Runtime } from '../runtime.js';
import { counterOf } from './act.js';
import { type Dialogue, openDialogue } from './dialogue.js';
import { answer, BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { findRun } from './find-run.js';
import { codeFor } from './problem-code.js';
import type { SignOptions } from './sign-sides.js';
import { incomingSide, outgoingSide } from './sign-sides.js';
import { tellFindings } from './tell-findings.js';
import { withProgress } from './with-progress.js';

export type { SignOptions } from './sign-sides.js';

/** Walks the outgoing operator through what only a person knows, then the incoming one through the cross-check; all of it becomes records. */
export const signHandover = async (options: SignOptions, io: Io): Promise<Exit> => {
  const open = findRun(options.data, options.run);
  if (!open.ok)
    return open.problem.code === 'none-in-progress'
      ? refuse(io, 'no run is in progress; one that has ended is signed with --run ID', NO)
      : refuse(io, open.problem.message, codeFor(open.problem));
  const opened = await withProgress(io, (progress) =>
    openRun(open.value, { operator: options.outgoing ?? '', progress }),
  );
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  const runtime = opened.value;
  const dialogue = openDialogue();
  try {
    if (runtime.readOnly !== null)
      return refuse(
        io,
        `run ${runtime.state().run} is ${runtime.readOnly}; sign on that screen, or close it first`,
        NO,
      );
    const view = await withProgress(io, (progress) => runtime.handover(null, progress));
    if (!view.ok) return refuse(io, view.problem.message, MACHINE);
    // The page as it is read back: nothing that is written from here on is on it.
    const proved = withPaper(open.value, view.value, runtime.state().seq);
    if (!proved.ok) return refuse(io, proved.problem.message, MACHINE);
    const { paper } = proved.value;
    const signing = await walk(runtime, view.value, options, dialogue);
    if (!signing.ok) return refuse(io, `run ${runtime.state().run}: ${signing.problem.message}`, BAD);
    const records = signRecords(
      signSheet(view.value),
      view.value.board,
      signing.value,
      paper === undefined ? undefined : { number: paper.number, entries: paper.entries, head: paper.head },
    );
    if (!records.ok) return refuse(io, `run ${runtime.state().run}: ${records.problem.message}`, BAD);
    return await write(runtime, records.value, signing.value, options, io);
  } finally {
    dialogue?.end();
    await runtime.close();
  }
};

const walk = async (
  runtime: Runtime,
  view: HandoverView,
  options: SignOptions,
  dialogue: Dialogue | null,
): Promise<Result<Signing>> => {
  dialogue?.say(inThirtySeconds(view));
  const outgoing = await outgoingSide(runtime, view, options, dialogue);
  if (!outgoing.ok) return outgoing;
  const web_m = await webNow(runtime, view, options, dialogue);
  if (!web_m.ok) return web_m;
  const incoming = await incomingSide(runtime, view, options, dialogue);
  if (!incoming.ok) return incoming;
  return ok({
    ...outgoing.value,
    incoming: incoming.value,
    ...(web_m.value === null ? {} : { web_m: web_m.value }),
  });
};

const inThirtySeconds = (view: HandoverView): string => {
  const telling = tellingOf(view);
  const width = Math.min(100, process.stderr.columns ?? 78);
  return `${renderText({ title: view.board.job, subtitle: `Run ${view.board.run}`, sections: [thirtySeconds(telling)] }, width)}\nThe whole of it: holdreg handover\n`;
};

/** The counter is asked for while the press runs: the sample that is read again was pulled there. */
const webNow = async (
  runtime: Runtime,
  view: HandoverView,
  options: SignOptions,
  dialogue: Dialogue | null,
): Promise<Result<number | null>> => {
  const state = runtime.state();
  if (options.counter !== undefined) return counterOf(state, options.counter);
  const { position, phase } = view.board;
  if (dialogue === null || phase === 'ended' || !position.estimated) return ok(null);
  const shown = atCounter(position.web_m ?? 0, view.board);
  for (;;) {
    const typed = await dialogue.ask(`Counter now, ${view.board.units.length}? Enter = about ${shown}:`);
    if (typed === null) return fail('left without signing; nothing was recorded');
    if (typed === '') return ok(null);
    const read = counterOf(state, typed);
    if (read.ok) return read;
    dialogue.say(read.problem.message);
  }
};

const write = async (
  runtime: Runtime,
  records: readonly Signed[],
  signing: Signing,
  options: SignOptions,
  io: Io,
): Promise<Exit> => {
  const lines: string[] = [];
  runtime.onRecord((record, found) =>
    lines.push(...tellFindings(runtime.state(), record, found, options.json === true)),
  );
  for (const [index, { by, body }] of records.entries()) {
    const wrote = await runtime.submit(body, { by });
    if (!wrote.ok)
      return refuse(
        io,
        `run ${runtime.state().run}: ${wrote.problem.message}${index === 0 ? ' Nothing was recorded.' : ` ${index} of ${records.length} entries were recorded; sign again.`}`,
        codeFor(wrote.problem),
      );
  }
  for (const line of lines) options.json === true ? io.out(`${line}\n`) : answer(io, line);
  const shift = records.find(({ body }) => body.type === 'shift')?.body;
  if (options.json === true) io.out(`${jsonWithCodes({ ...shift, type: 'shift', run: runtime.state().run })}\n`);
  else
    io.out(
      signing.incoming === null
        ? `Run ${runtime.state().run}: ${plainWords(signing.outgoing)} handed over. Nobody took over: there is no incoming operator.\n`
        : `Run ${runtime.state().run}: ${plainWords(signing.outgoing)} handed over, ${plainWords(signing.incoming.name)} took over.\n${shift?.type === 'shift' && shift.note !== null ? `${plainWords(shift.note)}\n` : ''}${shift?.type === 'shift' && shift.page !== undefined ? `The page as it was signed: holdreg handover --number ${shift.page.number}\n` : ''}`,
    );
  return OK;
};
