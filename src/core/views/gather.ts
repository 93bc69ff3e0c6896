import type { AdviceFinding, CorrectionFinding, Finding, SuspectFinding } from '../finding.js';
import type { LogRecord } from '../record.js';

/** What is gathered while the log is folded, so that a report can tell who did what when. Plain data. */
export type Gathered = {
  readonly told: ReadonlyMap<number, Told>;
  readonly corrections: readonly {
    readonly record: Extract<LogRecord, { type: 'correction' }>;
    readonly result: CorrectionFinding | null;
  }[];
  readonly log: readonly LogRecord[];
  readonly withdrawn: ReadonlySet<number>;
};

type Told = {
  readonly at: string;
  readonly check: string;
  readonly web_m: number;
  readonly advice: readonly AdviceFinding[];
  readonly corrections: readonly CorrectionFinding[];
  readonly suspects: readonly SuspectFinding[];
  readonly closed_web_m: number | null;
};

export const nothingGathered: Gathered = { told: new Map(), corrections: [], log: [], withdrawn: new Set() };

/** What is gathered as plain JSON, so that it can be kept and gone on with. */
export type GatheredKept = {
  readonly told: readonly (readonly [number, Told])[];
  readonly corrections: Gathered['corrections'];
  readonly log: Gathered['log'];
  readonly withdrawn: readonly number[];
};

export type Gatherer = {
  /** Takes one record and what it made known. */
  take(record: LogRecord, found: readonly Finding[]): void;
  /** All of it so far; grows with the next record. */
  gathered(): Gathered;
  kept(): GatheredKept;
};

/** Gathers from the first record on, or from what was kept. A record costs the same however many came before. */
export const gatherer = (from: GatheredKept = { told: [], corrections: [], log: [], withdrawn: [] }): Gatherer => {
  const told = new Map<number, Told>(from.told);
  const corrections = [...from.corrections];
  const log = [...from.log];
  const withdrawn = new Set(from.withdrawn);
  let passed = log.some((r) => r.type === 'ok');

  const resultOf = (found: CorrectionFinding): void => {
    const at = corrections.findIndex(
      (c) =>
        c.result === null &&
        !withdrawn.has(c.record.seq) &&
        c.record.station === found.station &&
        c.record.axis === found.axis &&
        Math.abs(c.record.move_mm - found.asked_mm) < 1e-9,
    );
    const one = corrections[at];
    if (one !== undefined) corrections[at] = { ...one, result: found };
  };

  const take: Gatherer['take'] = (record, found) => {
    const web_m = 'web_m' in record && record.web_m !== null ? record.web_m : 0;
    const check = record.type === 'check' ? String(record.check) : '';
    const on = (id: number, change: (t: Told) => Told): void => {
      const none = { at: record.at, check, web_m, advice: [], corrections: [], suspects: [], closed_web_m: null };
      told.set(id, change(told.get(id) ?? none));
    };
    for (const f of found) {
      if (f.type === 'event') on(f.id, (t) => t);
      else if (f.type === 'advice') on(f.event, (t) => ({ ...t, advice: [...t.advice, f] }));
      else if (f.type === 'closed') on(f.event, (t) => ({ ...t, closed_web_m: web_m }));
      else if (f.type === 'suspect' && f.event !== null) on(f.event, (t) => ({ ...t, suspects: [...t.suspects, f] }));
      else if (f.type === 'correction') {
        if (f.event !== null) on(f.event, (t) => ({ ...t, corrections: [...t.corrections, f] }));
        resultOf(f);
      }
    }
    if (record.type === 'correction') corrections.push({ record, result: null });
    if (record.type === 'withdraw' && record.entry !== null) withdrawn.add(record.entry);
    if (KEPT.has(record.type)) log.push(record);
    if (record.type !== 'ok' || passed) return;
    passed = true;
    if (record.zero_m !== null) countFromOk(record.zero_m);
  };

  /** OK to run makes its counter the zero: what was written by the press counter in make-ready is told as so many metres before it. */
  const countFromOk = (zero_m: number): void => {
    for (const [i, record] of log.entries()) log[i] = moved(record, zero_m);
    for (const [i, one] of corrections.entries()) corrections[i] = { ...one, record: moved(one.record, zero_m) };
  };

  return {
    take,
    gathered: () => ({ told, corrections, log, withdrawn }),
    kept: () => ({ told: [...told], corrections, log, withdrawn: [...withdrawn] }),
  };
};

const moved = <T extends LogRecord>(record: T, zero_m: number): T =>
  'web_m' in record && record.web_m !== null ? { ...record, web_m: record.web_m - zero_m } : record;

/** Entries that the next shift reads one by one; checks, pulls and looks at the counter are told as counts. */
const KEPT: ReadonlySet<LogRecord['type']> = new Set([
  'begin',
  'ok',
  'roll',
  'finished',
  'wash',
  'speed',
  'stop',
  'start',
  'plate',
  'die',
  'reference',
  'tolerance',
  'web-set',
  'knob',
  'withdraw',
  'counter',
  'shift',
  'note',
  'sensor',
  'hold',
  'held',
  'end',
]);
