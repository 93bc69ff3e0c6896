import { describe, expect, it } from 'vitest';
import { tryRun } from '../../support/try-run.js';

/** A reference that creeps ahead: every other station reads farther behind, roll by roll, each with its own scatter. */
const CREEPING = [
  { 2: 0.01, 3: -0.01, 4: 0.02, D: -0.01 },
  { 2: -0.02, 3: 0, 4: 0.01, D: 0.01 },
  { 2: 0, 3: 0.02, 4: -0.01, D: -0.02 },
  { 2: -0.02, 3: -0.03, 4: 0, D: -0.02 },
  { 2: -0.03, 3: -0.05, 4: -0.01, D: -0.04 },
  { 2: -0.06, 3: -0.06, 4: -0.04, D: -0.05 },
  { 2: -0.05, 3: -0.07, 4: -0.06, D: -0.08 },
  { 2: -0.09, 3: -0.07, 4: -0.12, D: -0.09 },
];

describe('what most stations show together', () => {
  it('is turned at once, though single readings of it surprise: no misread mark explains them all', () => {
    const run = tryRun();
    CREEPING.forEach((read, i) => {
      run.check(i + 1, 1500 * (i + 1), read);
    });
    const { judged } = run.state();
    expect(judged.read_again.along.length).toBeGreaterThan(0);
    const moves = judged.movements.flatMap((m) => (m.closed === null ? (m.advice?.moves ?? []) : []));
    expect(moves.map((m) => m.station)).toEqual(['1']);
    expect(moves[0]?.move_mm).toBeLessThan(-0.03);
  });
  it('where one station alone surprises, it is read again first', () => {
    const run = tryRun();
    CREEPING.slice(0, 3).forEach((read, i) => {
      run.check(i + 1, 1500 * (i + 1), read);
    });
    run.check(4, 6000, { 2: 0, 3: 0.01, 4: -0.14, D: 0 });
    const { judged } = run.state();
    expect(judged.read_again.along).toEqual(['4']);
    expect(judged.movements.flatMap((m) => m.advice?.moves ?? [])).toEqual([]);
  });
});
