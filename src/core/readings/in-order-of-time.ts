import type { CheckId, RecordBody } from '../record.js';

/** A record with the time and the name that stand on it; `at` null when a file gave no time. `seq` where entries are taken back by their number. */
export type ToWrite = {
  readonly at: string | null;
  readonly by: string | null;
  readonly body: RecordBody;
  readonly seq?: number;
};

/**
 * The records of a run that stand, in order of time, with positions as a counter showed them. `records` gives all of them, first to last, each time it is asked
 * (up to three times): in memory are only the numbers of checks, and the checks that come before others which were entered earlier. The first passes are made
 * at once, the last one as it is read.
 */
export const inOrderOfTime = (records: () => Iterable<ToWrite>): Iterable<ToWrite> => {
  const facts = factsOf(records());
  const inTurn = (): Iterable<Placed> => placed(asCounted(standing(records(), facts)));
  return merged(inTurn(), facts.pulled ? earlyOnes(inTurn()) : []);
};

/** What only all records together tell. */
type Facts = {
  /** Entries taken back by their number. */
  readonly entries: ReadonlySet<number>;
  /** Where each check was keyed last, counted from 0. */
  readonly last: ReadonlyMap<CheckId, number>;
  /** The first OK to run that stands and sets a zero: what its counter read, m, and where it stands, counted from 0; null = there is none. */
  readonly ok: { readonly zero_m: number; readonly index: number } | null;
  /** Some check tells when its sample was pulled. */
  readonly pulled: boolean;
};

const factsOf = (records: Iterable<ToWrite>): Facts => {
  const entries = new Set<number>();
  const last = new Map<CheckId, number>();
  const oks: { readonly zero_m: number; readonly index: number; readonly seq: number | undefined }[] = [];
  let pulled = false;
  let index = 0;
  for (const { body, seq } of records) {
    if (body.type === 'withdraw' && body.entry !== null) entries.add(body.entry);
    else if (body.type === 'check') {
      last.set(body.check, index);
      pulled ||= body.pulled_at !== null;
    } else if (body.type === 'ok' && body.zero_m !== null) oks.push({ zero_m: body.zero_m, index, seq });
    index += 1;
  }
  const ok = oks.find(({ seq }) => seq === undefined || !entries.has(seq)) ?? null;
  return { entries, last, ok, pulled };
};

/**
 * Without entries taken back by number, and without the earlier of two keyings of one check. OK to run makes its counter the zero; what was written before it
 * is so many metres before.
 */
function* standing(records: Iterable<ToWrite>, { entries, last, ok }: Facts): Generator<ToWrite> {
  let index = -1;
  for (const record of records) {
    index += 1;
    const { body, seq } = record;
    if (seq !== undefined && entries.has(seq)) continue;
    const check = body.type === 'check' || body.type === 'withdraw' ? body.check : null;
    if (check !== null && index < (last.get(check) ?? 0)) continue;
    yield ok === null || ok.zero_m === 0 || index > ok.index ? record : { ...record, body: moved(body, ok.zero_m) };
  }
}

/** A file carries the counter: after a reset, the position without the offset. */
function* asCounted(records: Iterable<ToWrite>): Generator<ToWrite> {
  let offset_m = 0;
  for (const record of records) {
    yield offset_m === 0 ? record : { ...record, body: movedWeb(record.body, offset_m) };
    if (record.body.type === 'counter') offset_m = record.body.offset_m;
  }
}

const moved = (body: RecordBody, by_m: number): RecordBody => {
  const web = movedWeb(body, by_m);
  return web.type === 'counter' ? { ...web, offset_m: minus(web.offset_m, by_m) } : web;
};

const movedWeb = (body: RecordBody, by_m: number): RecordBody =>
  'web_m' in body && body.web_m !== null ? ({ ...body, web_m: minus(body.web_m, by_m) } as RecordBody) : body;

/** To the micrometre, without the crumbs of binary fractions. */
const minus = (a_m: number, b_m: number): number => Number((a_m - b_m).toFixed(6));

/** A record with its place in time: of two of one time the one that was entered first comes first. `early`: others that were entered before it come later. */
type Placed = { readonly record: ToWrite; readonly index: number; readonly time: string; readonly early: boolean };

/** A check stands where its sample was pulled, all else where it was entered, however the clock was set meanwhile. */
function* placed(records: Iterable<ToWrite>): Generator<Placed> {
  let now = '';
  let index = 0;
  for (const record of records) {
    const before = now;
    now = record.at !== null && record.at > now ? record.at : now;
    const pulled = record.body.type === 'check' ? record.body.pulled_at : null;
    const time = pulled !== null && pulled < now ? pulled : now;
    yield { record, index, time, early: time < before };
    index += 1;
  }
}

const earlyOnes = (records: Iterable<Placed>): readonly Placed[] => {
  const early: Placed[] = [];
  for (const one of records) if (one.early) early.push(one);
  return early.sort((a, b) => (a.time === b.time ? a.index - b.index : a.time < b.time ? -1 : 1));
};

/** The log's order, but for the early ones: the others never go back in time. */
function* merged(records: Iterable<Placed>, early: readonly Placed[]): Generator<ToWrite> {
  let next = 0;
  for (const one of records) {
    if (one.early) continue;
    for (; isBefore(early[next], one); next += 1) yield (early[next] as Placed).record;
    yield one.record;
  }
  for (const one of early.slice(next)) yield one.record;
}

const isBefore = (early: Placed | undefined, one: Placed): boolean =>
  early !== undefined && (early.time < one.time || (early.time === one.time && early.index < one.index));
