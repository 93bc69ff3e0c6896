import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/core/finding.js';
import type { LogRecord } from '../../../src/core/record.js';
import { apply } from '../../../src/core/run/apply.js';
import { begin } from '../../../src/core/run/begin.js';
import type { RunState } from '../../../src/core/run/state.js';
import { seeded } from '../../support/seeded.js';
import { tryRun } from '../../support/try-run.js';

const IDS = ['2', '3', '4', 'D'];

/** A run in which something happens: a step, a correction, a taken-back check, a wash, a roll, a stop. */
const busyRun = (seed: number): readonly LogRecord[] => {
  const random = seeded(seed);
  const run = tryRun();
  const reading = (station: string, along: number): unknown => ({
    station,
    along_mm: Math.round(along * 100) / 100,
    across_mm: Math.round(0.04 * random.normal() * 100) / 100,
    look: null,
    edge: null,
    plate: random.uniform() < 0.1 ? 'building' : 'clean',
    flaws: null,
    labels: null,
  });
  const step = 0.25 * (random.uniform() < 0.5 ? -1 : 1);
  for (let n = 1; n <= 30; n++) {
    const web_m = n * 2000;
    run.put({ type: 'finished', web_m: web_m - 1, roll: String(n) });
    if (n === 9) run.put({ type: 'stop', web_m });
    if (n === 9) run.put({ type: 'start', web_m });
    if (n === 15) run.put({ type: 'wash', station: '3', web_m });
    const moved = n >= 12 && n < 16 ? step : 0;
    run.put({
      type: 'check',
      check: n,
      web_m,
      roll: String(n),
      pulled_at: null,
      source: 'keyed',
      place: null,
      readings: IDS.filter(() => random.uniform() < 0.9 || n < 3).map((id) =>
        reading(id, (id === '3' ? moved : 0) + 0.04 * random.normal()),
      ) as never,
    });
    if (n === 15)
      run.put({
        type: 'correction',
        station: '3',
        axis: 'along',
        move_mm: -step,
        teeth: 0,
        divisions: null,
        web_m: web_m + 20,
      });
    if (n === 20) run.put({ type: 'withdraw', check: 19, entry: null, web_m: null });
  }
  return run.records;
};

const foldAll = (
  records: readonly LogRecord[],
  between: (state: RunState) => RunState = (s) => s,
): { readonly state: RunState; readonly found: readonly Finding[] } => {
  const first = records[0];
  const begun = first === undefined ? null : begin(first);
  if (begun === null || !begun.ok) throw new Error('no run');
  let state = begun.value;
  const found: Finding[] = [];
  for (const record of records.slice(1)) {
    const applied = apply(between(state), record);
    state = applied.state;
    found.push(...applied.found);
  }
  return { state, found };
};

const shuffled = <T>(list: readonly T[], random: () => number): readonly T[] =>
  list
    .map((v) => ({ v, k: random() }))
    .sort((a, b) => a.k - b.k)
    .map(({ v }) => v);

describe('the fold', () => {
  it('gives the same whether the state went through JSON between records or not', () => {
    const records = busyRun(1);
    const plain = foldAll(records);
    const through = foldAll(records, (s) => JSON.parse(JSON.stringify(s)) as RunState);
    expect(JSON.stringify(through.found)).toBe(JSON.stringify(plain.found));
  });

  it('never changes a state it was given', () => {
    const records = busyRun(2);
    foldAll(records, deepFreeze);
  });

  it('says the same, byte for byte, for any order of stations within a check', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (seed) => {
        const records = busyRun(seed);
        const random = seeded(seed + 1);
        const mixed = records.map((r) =>
          r.type === 'check' ? { ...r, readings: shuffled(r.readings, random.uniform) } : r,
        );
        expect(JSON.stringify(foldAll(mixed).found)).toBe(JSON.stringify(foldAll(records).found));
      }),
      { numRuns: 10 },
    );
  });

  it('adding a constant to every web position changes positions only', () => {
    const records = busyRun(4);
    const moved = records.map((r) =>
      'web_m' in r && r.web_m !== null ? { ...r, web_m: r.web_m + 8192 } : r,
    ) as readonly LogRecord[];
    const strip = (found: readonly Finding[]): string =>
      JSON.stringify(found, (k, v) =>
        /_m$/.test(k) && !/^moved|^move|^leaves/.test(k) ? '' : typeof v === 'number' ? Number(v.toPrecision(9)) : v,
      );
    expect(strip(foldAll(moved).found)).toBe(strip(foldAll(records).found));
  });

  it('mirrored signs give the mirrored verdict', () => {
    const records = busyRun(5);
    const flip = (mm: number | null): number | null => (mm === null ? null : -mm);
    const mirrored = records.map((r) => {
      if (r.type === 'check')
        return {
          ...r,
          readings: r.readings.map((x) => ({ ...x, along_mm: flip(x.along_mm), across_mm: flip(x.across_mm) })),
        };
      return r.type === 'correction' ? { ...r, move_mm: -r.move_mm } : r;
    });
    const told = (found: readonly Finding[], sign: number): unknown =>
      found.flatMap((f): unknown[] => {
        if (f.type === 'event') return [[f.severity, f.cause, Number((sign * f.moved_mm).toFixed(9))]];
        return f.type === 'correction' ? [[f.took, Number((sign * f.got_mm).toFixed(9))]] : [];
      });
    expect(told(foldAll(mirrored).found, -1)).toEqual(told(foldAll(records).found, 1));
  });

  it('stays small however long the run: the state does not grow past a bound', () => {
    const random = seeded(9);
    const run = tryRun();
    let at1500 = 0;
    for (let n = 1; n <= 3000; n++) {
      run.check(n, n * 100, Object.fromEntries(IDS.map((id) => [id, 0.04 * random.normal()])));
      if (n === 1500) at1500 = JSON.stringify(run.state().judged).length;
    }
    const at3000 = JSON.stringify(run.state().judged).length;
    expect(at3000).toBeLessThan(at1500 * 1.1);
    expect(JSON.stringify(run.state()).length).toBeLessThan(2_000_000);
  });
});

const deepFreeze = <T>(value: T): T => {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const v of Object.values(value)) deepFreeze(v);
  }
  return value;
};
