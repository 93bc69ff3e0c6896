import type { LogRecord, RecordBody } from '../../src/core/record.js';
import { fail, ok } from '../../src/core/result.js';
import type { BoardView } from '../../src/core/views/board-view.js';
import type { BoardPort } from '../../src/ui/port.js';
import { chart } from './fixtures.js';

/** A port on a hand-made view: keeps what was submitted, and moves the view as far as the board itself needs it. */
export type FakePort = BoardPort & {
  readonly submitted: RecordBody[];
  readonly saved: string[];
  set(view: BoardView): void;
  /** From now on every submit fails with this. */
  breakWith(message: string | null): void;
  advance(ms: number): void;
  readonly left: number[];
};

export function fakePort(start: BoardView, over: Partial<BoardPort> = {}): FakePort {
  let view = start;
  let trouble: string | null = null;
  let nowMs = Date.parse('2026-11-24T13:20:00.000Z');
  let seq = 100;
  let operator = start.operator ?? 'Anna';
  const watchers = new Set<() => void>();
  const submitted: RecordBody[] = [];
  const saved: string[] = [];
  const left: number[] = [];
  const set = (next: BoardView): void => {
    view = next;
    for (const changed of [...watchers]) changed();
  };
  return {
    submitted,
    saved,
    left,
    set,
    breakWith: (message) => {
      trouble = message;
    },
    advance: (ms) => {
      nowMs += ms;
    },
    view: () => view,
    subscribe: (changed) => {
      watchers.add(changed);
      return () => watchers.delete(changed);
    },
    chart: (station, axis, window) => chart(station, axis, window),
    submit: async (body) => {
      await Promise.resolve();
      if (trouble !== null) return fail(trouble);
      seq += 1;
      submitted.push(body);
      const record: LogRecord = { v: 1, seq, at: new Date(nowMs).toISOString(), by: operator, ...body };
      set(after(view, record));
      return ok(record);
    },
    doubt: (_station, _axis, mm) =>
      Math.abs(mm) > 0.3 ? `${Math.abs(mm).toFixed(2)} is far from what is expected. Read it again?` : null,
    handover: () =>
      Array.from({ length: 60 }, (_, i) =>
        i % 12 === 0 ? `## Part ${i / 12 + 1}` : `line ${i + 1} of the handover`,
      ).join('\n'),
    readOnly: null,
    operator: () => operator,
    setOperator: (name) => {
      operator = name;
    },
    now: () => nowMs,
    quit: (code = 0) => {
      left.push(code);
    },
    drafts: { load: () => saved[saved.length - 1] ?? null, save: (text) => saved.push(text) },
    ...over,
  };
}

function after(view: BoardView, record: LogRecord): BoardView {
  if (record.type === 'pull')
    return {
      ...view,
      next_check_id: Number(record.check) + 1,
      pulled: [
        ...view.pulled,
        { check: record.check, web_m: record.web_m, at: record.at, roll: record.roll, shows_old_setting: [] },
      ],
    };
  if (record.type === 'check')
    return {
      ...view,
      checks_made: view.checks_made + 1,
      pulled: view.pulled.filter((one) => one.check !== record.check),
    };
  if (record.type === 'stop') return { ...view, phase: 'stopped' };
  if (record.type === 'start') return { ...view, phase: 'settling', settle_until_m: record.web_m + 60 };
  if (record.type === 'position') return { ...view, position: { ...view.position, web_m: record.web_m, age_s: 0 } };
  if (record.type === 'seen') return { ...view, events: view.events.map((one) => ({ ...one, seen: true })) };
  if (record.type === 'ok') return { ...view, phase: 'running' };
  if (record.type === 'end') return { ...view, phase: 'ended' };
  return view;
}
