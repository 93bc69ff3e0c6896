import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LogRecord } from '../../src/core/record.js';
import { begin } from '../../src/core/run/begin.js';
import type { RunState } from '../../src/core/run/state.js';
import { takeRecord } from '../../src/runtime/take-record.js';
import { decodeFrame } from '../../src/store/frame.js';

/** What the driver keyed, and what the screen then said was taken. */
export type Ledger = {
  /** Texts of notes in the order keyed; `shown`: the screen said "Noted." to it. */
  readonly notes: { readonly text: string; shown: boolean }[];
  /** Checks saved, with what was keyed; `shown`: the screen said so. */
  readonly checks: { readonly check: number; readonly along_mm: readonly number[]; shown: boolean }[];
  /** Every check below this number was seen to exist, the sensor's too. */
  nextCheck: number;
};

export type Account = {
  readonly records: number;
  readonly shown: number;
  readonly sensor: number;
  readonly lost: readonly string[];
  readonly twice: readonly string[];
  readonly outOfOrder: readonly string[];
};

/** Holds the log of a run folder, read as any other program could, against the ledger. */
export const account = (folder: string, ledger: Ledger): Account => {
  const records = recordsIn(folder);
  const lost: string[] = [];
  const twice: string[] = [];
  const outOfOrder: string[] = [];
  records.forEach((r, i) => {
    if (r.seq !== i + 1) outOfOrder.push(`entry ${r.seq} stands at ${i + 1}`);
  });
  const notes = records.flatMap((r) => (r.type === 'note' && r.by !== 'program' ? [r.text] : []));
  const checks = records.flatMap((r) => (r.type === 'check' ? [r] : []));
  for (const { text, shown } of ledger.notes) {
    const times = notes.filter((t) => t === text).length;
    if (shown && times === 0) lost.push(`note ${text}`);
    if (times > 1) twice.push(`note ${text}`);
  }
  const keyedOrder = ledger.notes.map((n) => n.text).filter((t) => notes.includes(t));
  if (JSON.stringify(keyedOrder) !== JSON.stringify(notes.filter((t) => keyedOrder.includes(t))))
    outOfOrder.push('notes stand in another order than keyed');
  for (const { check, along_mm, shown } of ledger.checks) {
    const found = checks.filter((c) => c.check === check && c.source === 'keyed');
    const has = (mm: number): boolean => found.some((c) => c.readings.some((r) => r.along_mm === mm));
    if (shown && (found.length === 0 || !along_mm.every(has))) lost.push(`check ${check}`);
  }
  const numbers = checks.map((c) => c.check);
  for (const n of new Set(numbers)) if (numbers.filter((m) => m === n).length > 1) twice.push(`check ${n}`);
  const known = new Set(records.flatMap((r) => (r.type === 'check' || r.type === 'pull' ? [r.check] : [])));
  for (let n = 1; n < ledger.nextCheck; n += 1) if (!known.has(n)) lost.push(`check ${n} (shown to exist)`);
  return {
    records: records.length,
    shown: ledger.notes.filter((n) => n.shown).length + ledger.checks.filter((c) => c.shown).length,
    sensor: checks.filter((c) => c.source === 'sensor').length,
    lost,
    twice,
    outOfOrder,
  };
};

/** Every record of a run folder; a torn tail is left out, any other damage throws. */
export const recordsIn = (folder: string): readonly LogRecord[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ndjson'))
    .sort()
    .flatMap((name) => {
      const text = readFileSync(join(folder, name), 'utf8');
      const whole = text.slice(0, text.lastIndexOf('\n') + 1);
      return whole
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => {
          const bytes = Buffer.from(line);
          const record = decodeFrame(bytes, 0, bytes.length);
          if (typeof record === 'string') throw new Error(`${name}: ${record}`);
          return record;
        });
    });

/** The state of a run worked out from its first record, without any checkpoint. */
export const foldFromScratch = (folder: string): RunState => {
  let state: RunState | null = null;
  for (const record of recordsIn(folder)) {
    if (state !== null) state = takeRecord(folder, state, record).state;
    else {
      const begun = begin(record);
      if (!begun.ok) throw new Error(begun.problem.message);
      state = begun.value;
    }
  }
  if (state === null) throw new Error('an empty run');
  return state;
};
