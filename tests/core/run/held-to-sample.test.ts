import { describe, expect, it } from 'vitest';
import { tryRun } from '../../support/try-run.js';

const OFF = { '2': 0.06, '3': -0.05, '4': 0, D: 0.1 } as const;

const heldToSample = () => {
  const run = tryRun({ make_ready: true });
  run.check(1, 0, OFF);
  run.put({ type: 'ok', web_m: 0, zero_m: 0, passed_by: 'JK', check: 1, hold_to: 'sample' });
  for (let n = 2; n <= 12; n++) run.check(n, n * 2000, { ...OFF, '4': 0.01 * (n % 2) });
  return run;
};

describe('a run held to the passed sample', () => {
  it('what the sample read is right: it is no movement, and readings are told against it', () => {
    const run = heldToSample();
    expect(run.found).toEqual([]);
    expect(run.state().judged.aim_mm['2']?.along).toBe(0.06);
    expect(run.state().judged.read['2']?.along.mm).toBeCloseTo(0, 9);
  });

  it('OK given again to dead register: the aims are those of the job again, and the watch begins anew', () => {
    const run = heldToSample();
    run.put({ type: 'ok', web_m: 24_000, zero_m: null, passed_by: 'JK', check: 12, hold_to: 'aim' });
    const { judged } = run.state();
    expect(judged.aim_mm['2']?.along).toBe(0);
    expect(judged.read['2']?.along.mm).toBeCloseTo(0.06, 9);
    expect(judged.watch.keyed).toBeNull();
  });

  it('OK given again where the aims stay as they are: the watch goes on', () => {
    const run = tryRun();
    for (let n = 1; n <= 5; n++) run.check(n, n * 2000, { '2': 0.01, '3': 0, '4': 0, D: 0 });
    run.put({ type: 'ok', web_m: 10_000, zero_m: null, passed_by: 'JK', check: 5, hold_to: 'aim' });
    expect(run.state().judged.watch.keyed).not.toBeNull();
  });
});
