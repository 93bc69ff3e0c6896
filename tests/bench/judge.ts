import type { LogRecord } from '../../src/core/record.js';
import { apply } from '../../src/core/run/apply.js';
import { reading } from '../support/reading.js';
import { seeded } from '../support/seeded.js';
import { JOB, PRESS, tryRun } from '../support/try-run.js';

const STATIONS = 16;
const WARM = 300;
const COUNTED = 400;
/** By then all that is kept a number of is full: movements, acts, readings for the charts. */
const LONG = 20_000;

/** Issue figure: one check of 16 stations × 2 axes through the whole judgement at most 100 × one JSON.parse of its record, not growing with the run. */
export const benchJudge = (): readonly string[] => {
  const ids = Array.from({ length: STATIONS }, (_, i) => String(i + 1));
  const press = { ...PRESS, stations: ids.map((id, i) => ({ id, kind: 'print', at_m: 1.5 + i * 1.2 })), sample_m: 25 };
  const job = {
    ...JOB,
    stations: ids.map((id) => ({ id })),
    tolerance: { print: { along_mm: 0.15, across_mm: 0.15 } },
  };
  const run = tryRun({ press, job });
  const random = seeded(4);
  const checkOf = (n: number): LogRecord => ({
    v: 1,
    seq: n + 2,
    at: new Date(1.772e12 + n * 600_000).toISOString(),
    by: 'MK',
    type: 'check',
    check: n,
    web_m: n * 2000,
    roll: String(n),
    pulled_at: null,
    source: 'keyed',
    place: null,
    readings: ids.map((station) =>
      reading(station, {
        along_mm: station === '1' ? null : round(0.04 * random.normal()),
        across_mm: station === '1' ? null : round(0.04 * random.normal()),
        plate: 'clean',
      }),
    ),
  });
  const records = Array.from({ length: WARM + COUNTED }, (_, i) => checkOf(i + 1));
  let state = run.state();
  const costs: number[] = [];
  const sizes: number[] = [];
  records.forEach((record, i) => {
    const line = JSON.stringify(record);
    const a = performance.now();
    for (let k = 0; k < 10; k++) JSON.parse(line);
    const b = performance.now();
    state = apply(state, record).state;
    const c = performance.now();
    if (i >= WARM) costs.push((c - b) / ((b - a) / 10));
    if (i === WARM || i === WARM + COUNTED - 1) sizes.push(JSON.stringify(state).length);
  });
  for (let n = WARM + COUNTED + 1; n <= LONG; n++) state = apply(state, checkOf(n)).state;
  sizes.push(JSON.stringify(state).length);
  const half = (list: readonly number[]): number =>
    list.toSorted((x, y) => x - y)[Math.floor(list.length / 2)] ?? Number.NaN;
  return [
    `one check of ${STATIONS} stations x 2 axes through the whole judgement: ${half(costs).toFixed(0)} x one JSON.parse of its record (asked: at most 100)`,
    `the same, second half of the run against the first: ${(half(costs.slice(COUNTED / 2)) / half(costs.slice(0, COUNTED / 2))).toFixed(2)} x`,
    `state after ${WARM}, ${WARM + COUNTED} and ${LONG} checks: ${sizes.map((s) => `${(s / 1e6).toFixed(2)} MB`).join(', ')} (asked: under 2 MB)`,
  ];
};

const round = (mm: number): number => Math.round(mm * 100) / 100;
