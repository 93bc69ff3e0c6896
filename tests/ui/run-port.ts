import type { LogRecord, RecordBody } from '../../src/core/record.js';
import { fail, ok } from '../../src/core/result.js';
import { admit } from '../../src/core/run/admit.js';
import { apply } from '../../src/core/run/apply.js';
import type { RunState } from '../../src/core/run/state.js';
import { boardView } from '../../src/core/views/board.js';
import { chartView } from '../../src/core/views/chart.js';
import { doubtOf } from '../../src/core/views/doubt-words.js';
import { type FakePort, fakePort } from './fake-port.js';
import { quiet } from './fixtures.js';

/** A port on a run in memory: what is submitted is admitted and folded as the runtime does it, without a disk. */
export type RunPort = FakePort & { readonly state: () => RunState };

export function runPort(start: RunState, at_ms: number): RunPort {
  let state = start;
  let nowMs = at_ms;
  const view = () => boardView(state, nowMs);
  const port = fakePort(quiet());
  let trouble: string | null = null;
  return {
    ...port,
    state: () => state,
    view,
    now: () => nowMs,
    advance: (ms) => {
      nowMs += ms;
    },
    breakWith: (message) => {
      trouble = message;
    },
    operator: () => 'MK',
    chart: (station, axis, window) => chartView(state, station, axis, window),
    doubt: (station, axis, mm, check) => doubtOf(state, station, axis, mm, check),
    submit: async (body: RecordBody) => {
      await Promise.resolve();
      if (trouble !== null) return fail(trouble);
      const fit = admit(state, body);
      if (!fit.ok) return fit;
      const record: LogRecord = { v: 1, seq: state.seq + 1, at: new Date(nowMs).toISOString(), by: 'MK', ...body };
      state = apply(state, record).state;
      port.submitted.push(body);
      port.set(view());
      return ok(record);
    },
  };
}
