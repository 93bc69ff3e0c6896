import { describe, expect, it } from 'vitest';
import type { LogRecord, RecordBody } from '../../../src/core/record.js';
import { apply } from '../../../src/core/run/apply.js';
import { comesLate } from '../../../src/core/run/comes-late.js';
import { reachesBack, refold } from '../../../src/core/run/refold.js';
import type { RunState } from '../../../src/core/run/state.js';
import { seeded } from '../../support/seeded.js';
import { tryRun } from '../../support/try-run.js';
import { checkBody } from '../../torture/open-test-run.js';

/** A run of checks, corrections and washes, some told late, some taken back; short enough that `apply` still remembers all of it. */
const shortRun = (seed: number) => {
  const random = seeded(seed);
  const run = tryRun();
  let check = 0;
  let web_m = 0;
  const pick = (n: number): number => Math.floor(random.uniform() * n);
  const steps: { state: RunState; record: LogRecord; before: readonly LogRecord[] }[] = [];
  const put = (body: RecordBody): void => {
    const state = run.state();
    const before = [...run.records];
    try {
      run.put(body);
    } catch {
      return;
    }
    const record = run.records.at(-1);
    if (record !== undefined) steps.push({ state, record, before });
  };
  for (let i = 0; i < 60; i += 1) {
    const dice = random.uniform();
    web_m += 100;
    if (dice < 0.6) {
      check += 1;
      put(checkBody(check, web_m, random, 'keyed', dice < 0.1 ? 0.2 : 0));
    } else if (dice < 0.75) {
      const along = { type: 'correction', station: '2', axis: 'along', move_mm: 0.02, teeth: 0, divisions: 1 } as const;
      put({ ...along, web_m: web_m - pick(5) * 130 });
    } else if (dice < 0.78) {
      const knob = {
        type: 'knob',
        station: '2',
        axis: 'along',
        divisions: 10,
        before_check: 1,
        after_check: 2,
      } as const;
      put({ ...knob, division_mm: 0.02 + 0.01 * pick(3), sense: pick(2) === 0 ? 1 : -1, web_m: web_m - pick(5) * 130 });
    } else if (dice < 0.85) put({ type: 'wash', station: '3', web_m: web_m - pick(4) * 130 });
    else if (dice < 0.95) put({ type: 'withdraw', check: 1 + pick(Math.max(1, check)), entry: null, web_m: null });
    else put({ type: 'withdraw', check: null, entry: 3 + pick(i + 1), web_m: null });
  }
  return steps;
};

describe('judging anew from the log', () => {
  it('gives what apply gives wherever both can tell, found and said included', () => {
    let compared = 0;
    for (let seed = 1; seed <= 12; seed += 1)
      for (const { state, record, before } of shortRun(seed)) {
        const last = state.judged.last_check;
        const late = comesLate(record) && last !== null && record.web_m < last.web_m;
        if (record.type !== 'withdraw' && !late) continue;
        compared += 1;
        const plain = apply(state, record);
        const anew = refold(state, record, () => before);
        expect(
          JSON.stringify(anew.state.judged) === JSON.stringify(plain.state.judged),
          `seed ${seed}, ${record.seq}`,
        ).toBe(true);
        expect(anew.found).toEqual(plain.found);
        expect(JSON.stringify(anew.state.said)).toBe(JSON.stringify(plain.state.said));
      }
    expect(compared).toBeGreaterThan(60);
    // Some 40 000 checks are judged: on a machine with other work that takes longer than most tests may.
  }, 240_000);

  it('is asked for exactly when what is taken back, or came late, lies before what the state keeps', () => {
    const run = tryRun();
    const random = seeded(2);
    for (let n = 1; n <= 600; n += 1) run.put(checkBody(n, n * 100, random));
    const state = run.state();
    const head = { v: 1, seq: state.seq + 1, at: new Date(1.8e12).toISOString(), by: 'MK' };
    const back = (check: number): LogRecord => ({ ...head, type: 'withdraw', check, entry: null, web_m: null });
    const wash = (web_m: number): LogRecord => ({ ...head, type: 'wash', station: '2', web_m });
    expect([back(600), back(580), wash(60_000), wash(59_000)].map((r) => reachesBack(state, r))).toEqual([
      false,
      false,
      false,
      false,
    ]);
    expect([back(2), wash(500)].map((r) => reachesBack(state, r))).toEqual([true, true]);
  });
});
