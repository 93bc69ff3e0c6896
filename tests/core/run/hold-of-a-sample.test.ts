import { describe, expect, it } from 'vitest';
import { heldStretches } from '../../../src/core/run/held.js';
import { tryRun } from '../../support/try-run.js';

const STILL = { 2: 0.01, 3: -0.01, 4: 0, D: 0.02 };

describe('two labels of one sample, the first inside and the second outside', () => {
  it('hold what was made since the sample before: a sample is not its own last good check', () => {
    const run = tryRun();
    run.check(1, 2000, STILL);
    run.check(2, 4000, { ...STILL, 4: -0.14 });
    run.check(3, 4000, { 4: -0.18 });
    expect(heldStretches(run.state()).map(({ from_m, to_m }) => [from_m, to_m])).toEqual([[2000, null]]);
  });
  it('the first outside and the second inside: what the first began is over at that sample', () => {
    const run = tryRun();
    run.check(1, 2000, STILL);
    run.check(2, 4000, { ...STILL, 4: -0.18 });
    run.check(3, 4000, { 4: -0.04 });
    expect(heldStretches(run.state()).map(({ from_m, to_m }) => [from_m, to_m])).toEqual([[2000, 4000]]);
  });
});
