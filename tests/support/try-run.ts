import type { Finding } from '../../src/core/finding.js';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import type { LogRecord, RecordBody, StationReading } from '../../src/core/record.js';
import { admit } from '../../src/core/run/admit.js';
import { apply } from '../../src/core/run/apply.js';
import { begin, RULES } from '../../src/core/run/begin.js';
import type { RunState } from '../../src/core/run/state.js';
import { keyedCheck, reading } from './reading.js';

/** A press of our own for tests: reference first, three more colours, a die that is fixed across. */
export const PRESS = {
  format: 'press/1',
  name: 'Line B',
  gear: '1/8 in CP',
  roll_change: 'running',
  stations: [
    { id: '1', kind: 'print', at_m: 1.5 },
    { id: '2', kind: 'print', at_m: 2.7 },
    { id: '3', kind: 'print', at_m: 3.9 },
    { id: '4', kind: 'print', at_m: 5.1 },
    { id: 'D', kind: 'die', at_m: 8.4, fixed: ['across'] },
  ],
  sample_m: 12,
  knobs: {
    along: { division_mm: 0.02, travel_mm: 3, sense: 1, while_running: true, to_advance: 'clockwise' },
    across: { division_mm: 0.02, travel_mm: 5, sense: 1, while_running: true, to_operator: 'clockwise' },
  },
};

export const JOB = {
  format: 'job/1',
  name: 'plum jam lid',
  repeat_teeth: 96,
  labels_across: 4,
  labels_around: 3,
  reference: '1',
  stations: [
    { id: '1', ink: 'opaque white' },
    { id: '2', ink: 'plum' },
    { id: '3', ink: 'leaf' },
    { id: '4', ink: 'grey' },
    { id: 'D' },
  ],
  tolerance: { print: { along_mm: 0.15, across_mm: 0.15 }, die: { along_mm: 0.4, across_mm: 0.4 } },
  reading: { resolution_mm: 0.01, spread_mm: 0.04, spread_worth_checks: 10 },
  finished_roll_m: 2000,
};

export type TryRun = {
  readonly state: () => RunState;
  readonly found: readonly Finding[];
  readonly records: readonly LogRecord[];
  /** One record; what it made known. Throws what `admit` refuses. */
  readonly put: (body: RecordBody, at_ms?: number) => readonly Finding[];
  /** A keyed check: along values by station, or [along, across]. Stations left out are not read. */
  readonly check: (
    n: number,
    web_m: number,
    along: Readonly<Record<string, number | readonly [number | null, number | null]>>,
    more?: Partial<StationReading>,
  ) => readonly Finding[];
};

/** A run begun, and passed unless `make_ready`. */
export const tryRun = (
  options: { press?: object; job?: object; make_ready?: boolean; began_ms?: number } = {},
): TryRun => {
  const press = readPress(JSON.stringify({ ...PRESS, ...options.press }), 'press.json');
  if (!press.ok) throw new Error(press.problem.message);
  const job = readJob(JSON.stringify({ ...JOB, ...options.job }), 'job.json', press.value);
  if (!job.ok) throw new Error(job.problem.message);
  const records: LogRecord[] = [];
  const all: Finding[] = [];
  let state: RunState | null = null;
  const stamp = (body: RecordBody, at_ms: number): LogRecord => ({
    v: 1,
    seq: records.length + 1,
    at: new Date(at_ms).toISOString(),
    by: 'MK',
    ...body,
  });
  const put: TryRun['put'] = (body, at_ms = (options.began_ms ?? 1_772_000_000_000) + records.length * 60_000) => {
    const record = stamp(body, at_ms);
    if (state === null) {
      const begun = begin(record);
      if (!begun.ok) throw new Error(begun.problem.message);
      state = begun.value;
      records.push(record);
      return [];
    }
    const fit = admit(state, body, 'MK');
    if (!fit.ok) throw new Error(fit.problem.message);
    const applied = apply(state, record);
    state = applied.state;
    records.push(record);
    all.push(...applied.found);
    return applied.found;
  };
  const now = (): RunState => {
    if (state === null) throw new Error('not begun');
    return state;
  };
  put({
    type: 'begin',
    run: 'r1',
    press: press.value,
    job: job.value,
    rules: RULES,
    program: 'test',
    time_zone: 'UTC',
  });
  if (options.make_ready !== true)
    put({ type: 'ok', web_m: 0, zero_m: null, passed_by: 'MK', check: null, hold_to: 'aim' });
  const check: TryRun['check'] = (n, web_m, along, more = {}) =>
    put(
      keyedCheck(
        n,
        web_m,
        Object.entries(along).map(([station, v]) => {
          const [a, c] = typeof v === 'number' ? [v, 0] : v;
          return reading(station, { along_mm: a, across_mm: c, ...more });
        }),
      ),
    );
  return { state: now, found: all, records, put, check };
};
