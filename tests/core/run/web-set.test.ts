import { describe, expect, it } from 'vitest';
import { JOB, PRESS, tryRun } from '../../support/try-run.js';

/** The web has stretched: each station is off in proportion to its path from the reference. */
const STRETCHED = { 2: 0.08, 3: 0.17, 4: 0.25, D: 0.46 };
const STILL = { 2: 0, 3: 0.01, 4: -0.01, D: 0.01 };

const stretchedRun = () => {
  const run = tryRun({ press: PRESS, job: { ...JOB, settle_m: 100 } });
  for (let n = 1; n <= 5; n++) run.check(n, 2000 * n, STILL);
  run.check(6, 12_000, STRETCHED);
  run.check(7, 12_000, STRETCHED);
  return run;
};
const ofWeb = (run: ReturnType<typeof stretchedRun>) =>
  run.state().judged.movements.find((m) => m.closed === null && m.cause.kind === 'web');

describe('tension, dryer or stock changed where the web had moved', () => {
  it('before it, both are said: look to the web first, and what to turn if it cannot be put back', () => {
    const web = ofWeb(stretchedRun());
    expect(web?.advice?.look_first).toContain('tension');
    expect(web?.advice?.moves.length).toBeGreaterThan(0);
  });
  it('after it nothing is turned by what was read before, and register settles', () => {
    const run = stretchedRun();
    run.put({ type: 'web-set', web_m: 12_050, what: 'tension' });
    expect(ofWeb(run)?.advice).toMatchObject({ moves: [] });
    expect(ofWeb(run)?.advice?.look_first).toBeUndefined();
    expect(run.state().judged.settle_until_m).toBe(12_150);
  });
  it('what the next sample still shows is turned, without being sent to the tension again', () => {
    const run = stretchedRun();
    run.put({ type: 'web-set', web_m: 12_050, what: 'tension' });
    run.check(8, 14_000, STRETCHED);
    const moves = run.state().judged.movements.flatMap((m) => (m.closed === null ? (m.advice?.moves ?? []) : []));
    expect(moves.length).toBeGreaterThan(0);
    expect(ofWeb(run)?.advice?.look_first).toBeUndefined();
  });
  it('what came in is turned for no more', () => {
    const run = stretchedRun();
    run.put({ type: 'web-set', web_m: 12_050, what: 'tension' });
    run.check(8, 14_000, STILL);
    run.check(9, 14_000, STILL);
    expect(run.state().judged.movements.flatMap((m) => (m.closed === null ? (m.advice?.moves ?? []) : []))).toEqual([]);
  });
});
