import { describe, expect, it } from 'vitest';
import { okToRun } from '../../../src/core/views/ok-to-run.js';
import { tryRun } from '../../support/try-run.js';

const FULL = { '2': 0, '3': 0, '4': 0, D: 0 };

describe('whether OK to run can be given', () => {
  it('says which stations are still to be read', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, { '2': 0, '3': 0, '4': [0, null] });
    expect(okToRun(run.state())).toEqual({
      possible: false,
      why: 'OK to run needs one full check; not read yet: 4 grey across and die.',
    });
  });
  it('calls a check full only where it is', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 40, FULL);
    expect(okToRun(run.state()).why).toBe('Check 1 is full. OK to run asks who passed it.');
    run.check(2, 40, { '2': 0.01 });
    expect(okToRun(run.state())).toEqual({
      possible: true,
      why: 'Every station was read, not all on the last check. OK to run asks who passed it.',
    });
    run.check(3, 60, FULL);
    expect(okToRun(run.state()).why).toMatch(/^Check 3 is full/);
  });
});
