import { type RunDigest, runDigest } from '../core/views/run-digest.js';
import { historyHtml, historyJson, historyMarkdown, historyText } from '../report/history-report.js';
import { handoverOf } from '../runtime/handover-of.js';
import { logMark, standsAt } from '../store/log-mark.js';
import { runFolder, runsOf } from '../store/run-folder.js';
import { openShop, type Shop } from '../store/shop.js';
import type { ShopData } from '../store/shop-data.js';
import { BAD, type Exit, type Io, MACHINE, NO, OK, refuse } from './exit.js';
import { withProgress } from './with-progress.js';

export type HistoryOptions = {
  readonly data: string;
  readonly press?: string;
  readonly format: string;
  readonly json?: boolean;
  /** Works every run out of its log anew. */
  readonly rebuild?: boolean;
};

type Digests = ShopData['digests'];

/** Across runs, by press and station; counted from the index, which is made (and made anew) from the runs' logs. */
export const history = async (options: HistoryOptions, io: Io): Promise<Exit> => {
  const write = FORMATS[options.json === true ? 'json' : options.format];
  if (write === undefined)
    return refuse(io, `--format "${options.format}" is none of ${Object.keys(FORMATS).join(', ')}`, BAD);
  const opened = await openShop(options.data);
  if (!opened.ok) return refuse(io, opened.problem.message, MACHINE);
  if (opened.value.said !== null) io.err(`holdreg: ${opened.value.said}\n`);
  const { shop } = opened.value;
  const known = options.rebuild === true ? {} : shop.data().digests;
  const digests = await upToDate(options.data, known, io);
  if (digests === null) return MACHINE;
  await keep(shop, known, digests, io);
  const all = Object.values(digests).map(({ digest }) => digest);
  const told = options.press === undefined ? all : all.filter(({ press }) => press === options.press);
  if (options.press !== undefined && told.length === 0)
    return refuse(
      io,
      `no run is of a press "${options.press}"; there are ${[...new Set(all.map(({ press }) => press))].join(', ') || 'none'}`,
      NO,
    );
  io.out(write(told));
  return OK;
};

const FORMATS: Readonly<Record<string, (digests: readonly RunDigest[]) => string>> = {
  txt: (digests) => historyText(digests, process.stdout.isTTY ? process.stdout.columns : 100),
  md: historyMarkdown,
  html: historyHtml,
  json: historyJson,
};

/** The digest of every run; logs that have not grown are not read. */
const upToDate = async (data: string, known: Digests, io: Io): Promise<Digests | null> => {
  const runs = runsOf(data);
  if (!runs.ok) {
    refuse(io, runs.problem.message, MACHINE);
    return null;
  }
  const digests: Digests = {};
  for (const run of runs.value) {
    const before = known[run];
    if (before !== undefined && standsAt(data, run, before.log)) {
      digests[run] = before;
      continue;
    }
    const folder = runFolder(data, run);
    const mark = folder.ok ? logMark(folder.value) : folder;
    if (!folder.ok || !mark.ok || mark.value.last_bytes === 0) continue;
    const view = await withProgress(io, (progress) =>
      handoverOf(folder.value, Date.now(), { since: null, charts: false, progress }),
    );
    if (view.ok) digests[run] = { log: { ...mark.value }, digest: runDigest(view.value) };
    else io.err(`holdreg: run ${run} is left out: ${view.problem.message}\n`);
  }
  return digests;
};

/** Writes the index only when something in it changed; that it cannot be written is told, and costs nothing but time the next time. */
const keep = async (shop: Shop, known: Digests, digests: Digests, io: Io): Promise<void> => {
  const ids = new Set([...Object.keys(known), ...Object.keys(digests)]);
  if (![...ids].some((id) => isOther(known[id], digests[id]))) return;
  const kept = await shop.change((data) => ({ ...data, digests }), new Date());
  if (!kept.ok) io.err(`holdreg: the index was not written: ${kept.problem.message}\n`);
};

const isOther = (a: Digests[string] | undefined, b: Digests[string] | undefined): boolean =>
  a?.log.segments !== b?.log.segments || a?.log.last_bytes !== b?.log.last_bytes;
