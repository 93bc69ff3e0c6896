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

/** Takes one record and what it made known. */
export const gather = (gathered: Gathered, record: LogRecord, found: readonly Finding[]): Gathered => {
  if (found.length === 0 && record.type !== 'correction' && !KEPT.has(record.type)) return gathered;
  const told = new Map(gathered.told);
  let corrections = gathered.corrections;
  const web_m = 'web_m' in record && record.web_m !== null ? record.web_m : 0;
  const check = record.type === 'check' ? String(record.check) : '';
  const on = (id: number, change: (t: Told) => Told): void => {
    told.set(
      id,
      change(
        told.get(id) ?? { at: record.at, check, web_m, advice: [], corrections: [], suspects: [], closed_web_m: null },
      ),
    );
  };
  for (const f of found) {
    if (f.type === 'event') on(f.id, (t) => t);
    else if (f.type === 'advice') on(f.event, (t) => ({ ...t, advice: [...t.advice, f] }));
    else if (f.type === 'closed') on(f.event, (t) => ({ ...t, closed_web_m: web_m }));
    else if (f.type === 'suspect' && f.event !== null) on(f.event, (t) => ({ ...t, suspects: [...t.suspects, f] }));
    else if (f.type === 'correction') {
      if (f.event !== null) on(f.event, (t) => ({ ...t, corrections: [...t.corrections, f] }));
      const at = corrections.findIndex(
        (c) =>
          c.result === null &&
          !gathered.withdrawn.has(c.record.seq) &&
          c.record.station === f.station &&
          c.record.axis === f.axis &&
          Math.abs(c.record.move_mm - f.asked_mm) < 1e-9,
      );
      if (at >= 0) corrections = corrections.map((c, i) => (i === at ? { ...c, result: f } : c));
    }
  }
  if (record.type === 'correction') corrections = [...corrections, { record, result: null }];
  const withdrawn =
    record.type === 'withdraw' && record.entry !== null
      ? new Set([...gathered.withdrawn, record.entry])
      : gathered.withdrawn;
  const kept = KEPT.has(record.type) ? [...gathered.log, record] : gathered.log;
  const all = { told, corrections, log: kept, withdrawn };
  const first = record.type === 'ok' && record.zero_m !== null && !gathered.log.some((r) => r.type === 'ok');
  return first ? countedFromOk(all, record.zero_m ?? 0) : all;
};

/** OK to run makes its counter the zero: what was written by the press counter in make-ready is told as so many metres before it. */
const countedFromOk = (all: Gathered, zero_m: number): Gathered => {
  const moved = <T extends LogRecord>(record: T): T =>
    'web_m' in record && record.web_m !== null ? { ...record, web_m: record.web_m - zero_m } : record;
  return {
    ...all,
    log: all.log.map(moved),
    corrections: all.corrections.map((c) => ({ ...c, record: moved(c.record) })),
  };
};

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
