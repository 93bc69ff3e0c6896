import type { HandoverView } from '../core/views/handover-view.js';
import { handoverHtml } from '../report/handover-html.js';
import { handoverJson } from '../report/handover-json.js';
import { handoverMarkdown } from '../report/handover-markdown.js';
import { handoverText } from '../report/handover-text.js';
import { plainWords } from '../report/plain-words.js';
import { runReportHtml, runReportJson, runReportMarkdown, runReportText } from '../report/run-report.js';
import { handoverOf, signedHandoverOf } from '../runtime/handover-of.js';
import { BAD, type Exit, type Io, MACHINE, OK, refuse } from './exit.js';
import { findRunToRead } from './find-run.js';
import { codeFor } from './problem-code.js';
import { sinceTime } from './since-time.js';
import { withProgress } from './with-progress.js';

export type HandoverOptions = {
  readonly data: string;
  readonly run?: string;
  readonly since?: string;
  readonly format: string;
  /** A handover that was signed, by its number in the run: the page as it was then. */
  readonly number?: string;
  /** The whole run, with what only a whole run can say. */
  readonly runReport?: boolean;
};

type Formats = Readonly<Record<string, (view: HandoverView) => string>>;

const width = (): number => (process.stdout.isTTY ? Math.min(100, process.stdout.columns) : 78);

const SHIFT: Formats = {
  md: handoverMarkdown,
  html: handoverHtml,
  json: handoverJson,
  txt: (view) => handoverText(view, width()),
};

const WHOLE_RUN: Formats = {
  md: runReportMarkdown,
  html: runReportHtml,
  json: runReportJson,
  txt: (view) => runReportText(view, width()),
};

/** Prints the shift report (or the run report) of the run in progress, of the newest run when none is, or of the one named. */
export const handover = async (options: HandoverOptions, io: Io): Promise<Exit> => {
  const write = (options.runReport === true ? WHOLE_RUN : SHIFT)[options.format];
  if (write === undefined)
    return refuse(io, `--format "${options.format}" is none of ${Object.keys(SHIFT).join(', ')}`, BAD);
  if (options.runReport === true && options.since !== undefined)
    return refuse(io, '--run-report is about the whole run; --since goes with the shift report only', BAD);
  const folder = findRunToRead(options.data, options.run);
  if (!folder.ok) return refuse(io, folder.problem.message, codeFor(folder.problem));
  const since = sinceTime(options.since, new Date(), folder.value);
  if (!since.ok) return refuse(io, since.problem.message, codeFor(since.problem));
  const number = options.number === undefined ? null : Number(options.number);
  if (number !== null && !(Number.isInteger(number) && number > 0))
    return refuse(io, `--number "${plainWords(options.number ?? '')}" is no number of a signed handover`, BAD);
  const asked = { since: since.value, charts: options.format === 'html' };
  const view = await withProgress(io, (progress) =>
    number === null
      ? handoverOf(folder.value, Date.now(), { ...asked, progress })
      : signedHandoverOf(folder.value, number, { ...asked, progress }),
  );
  if (!view.ok) return refuse(io, view.problem.message, number === null ? MACHINE : codeFor(view.problem));
  const text = write(view.value);
  io.out(text.endsWith('\n') ? text : `${text}\n`);
  return OK;
};
