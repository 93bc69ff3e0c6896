import { describe, expect, it } from 'vitest';
import { holdreg, newData, runningPress } from '../end-to-end/program.js';

/** Codes come from what went wrong, not from how it is said: words that a name brings in decide nothing. */
describe('exit codes', () => {
  it('a wrong name is bad input, also one in capitals', () => {
    const said = holdreg(runningPress(), 'check', 'EXTRA:1A:0', '--counter', '6000');
    expect(said.err).toContain('EXTRA');
    expect(said.code).toBe(2);
  });

  it('a job called "disk permission" makes no disk trouble of a refusal', () => {
    const said = holdreg(newData(), 'start', 'disk permission.json', 'disk permission.json');
    expect(said).toMatchObject({ code: 2, err: 'holdreg: cannot read disk permission.json: there is no such file\n' });
  });

  it('no run in progress is a plain no', () => {
    expect(holdreg(newData(), 'stop').code).toBe(1);
  });

  it('a run that does not exist is bad input, and import makes it', () => {
    expect(holdreg(newData(), 'stop', '--run', 'nowhere').code).toBe(2);
  });
});
