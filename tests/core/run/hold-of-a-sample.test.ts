import { describe, expect, it } from 'vitest';
import { heldStretches } from '../../../src/core/run/held.js';
import { handoverText } from '../../../src/report/handover-text.js';
import { told } from '../../support/told.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

const pageOf = (run: TryRun): string => handoverText(told(run.records), 100).replace(/\s+/g, ' ');

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

describe('a knob turned where the sample was read, the counter not keyed since', () => {
  it('parts the samples: a good one just after it is no second label, and nothing was misread', () => {
    const run = tryRun();
    run.check(1, 2000, STILL);
    run.check(2, 4000, { ...STILL, 4: 0.19 });
    run.check(3, 4000, { 4: 0.2 });
    run.put({ type: 'correction', station: '4', axis: 'along', move_mm: -0.18, teeth: 0, divisions: -9, web_m: 4000 });
    run.check(4, 4050, { ...STILL, 4: 0.01 });
    expect(pageOf(run)).not.toMatch(/most likely/i);
    expect(pageOf(run)).toContain('good again at check 4');
    expect(heldStretches(run.state()).map(({ from_m, to_m }) => [from_m, to_m])).toEqual([[2000, 4050]]);
  });
  it('but a label of that sample keyed after it is one still', () => {
    const run = tryRun();
    run.check(1, 2000, STILL);
    run.check(2, 4000, { ...STILL, 4: 0.19 });
    run.put({ type: 'correction', station: '3', axis: 'along', move_mm: 0.02, teeth: 0, divisions: 1, web_m: 4000 });
    run.check(3, 4000, { 4: 0.01 });
    expect(pageOf(run)).toContain('most likely a misreading');
  });
});
