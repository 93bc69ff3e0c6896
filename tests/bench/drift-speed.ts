import { forecast, reach } from '../../src/core/drift/forecast.js';
import { initial, step, type WatchState } from '../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, type SimPress } from '../support/press-sim.js';
import { seeded } from '../support/seeded.js';

const SIXTEEN: SimPress = { ...SEVEN, at_m: Array.from({ length: 16 }, (_, i) => 1.5 + i) };
const EARLY = 600;
const LATE = 3000;
const BLOCKS = 15;
const BLOCK = 30;
const PARSES = 2000;

/** Cost of one check of 16 stations and two axes against one JSON.parse of its record, early and late in the run, and the size of the state. */
export const benchSpeed = (): readonly string[] => {
  const config = configOf(SIXTEEN);
  const random = seeded(9);
  const checks = Array.from({ length: 500 }, (_, t) =>
    readPress(SIXTEEN, random, t + 1, { along: () => 0, across: () => 0 }),
  );
  const seen = (t: number): (typeof checks)[number] => {
    const c = checks[t % checks.length];
    if (c === undefined) throw new Error('no checks');
    return { ...c, check: t, web_m: t * SIXTEEN.every_m };
  };
  const record = JSON.stringify({
    v: 1,
    seq: 4711,
    at: '2026-01-01T06:00:00Z',
    by: 'anna',
    type: 'check',
    check: 40,
    web_m: 26000,
    readings: SIXTEEN.at_m.map((_, k) => ({
      station: String(k + 1),
      along_mm: 0.05,
      across_mm: -0.05,
      look: null,
      edge: null,
      plate: 'clean',
      flaws: 0,
      labels: 100,
    })),
  });
  let state: WatchState = initial(config);
  let t = 1;
  const until = (end: number): number => {
    const start = performance.now();
    const from = t;
    for (; t < end; t++) {
      state = step(config, state, seen(t)).state;
      for (const axis of ['along', 'across'] as const) {
        for (const s of config.stations) {
          forecast(config, state, axis, s.id, (t + 1) * SIXTEEN.every_m, 0.15);
          reach(config, state, axis, s.id, 0.15, 40 * SIXTEEN.every_m);
        }
      }
    }
    return (performance.now() - start) / (end - from);
  };
  const parse = (): number => {
    const start = performance.now();
    let sum = 0;
    for (let i = 0; i < PARSES; i++) sum += (JSON.parse(record) as { seq: number }).seq;
    return sum === 0 ? 0 : (performance.now() - start) / PARSES;
  };
  // Ratios of short blocks next to one another, and their median: what else the machine does weighs on both alike.
  const ratio = (): number => {
    const ratios = Array.from({ length: BLOCKS }, () => until(t + BLOCK) / parse()).sort((a, b) => a - b);
    return ratios[Math.floor(BLOCKS / 2)] ?? Number.NaN;
  };
  until(EARLY);
  parse();
  const early = ratio();
  until(LATE);
  const late = ratio();
  return [
    `One check of 16 stations × 2 axes (watch, forecast and limit of every station) costs ${early.toFixed(0)} × JSON.parse of its record of ${record.length} bytes after ${EARLY} checks, ${late.toFixed(0)} × after ${LATE} (at most 100 × for the whole judgement)`,
    `State of the watch after ${t} checks: ${(JSON.stringify(state).length / 1000).toFixed(0)} kB`,
  ];
};
