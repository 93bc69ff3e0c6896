import { describe, expect, it } from 'vitest';
import { namedStation } from '../../../src/core/run/named-station.js';
import { tryRun } from '../../support/try-run.js';

const { press, job } = tryRun().state();
const meant = (word: string): string => {
  const named = namedStation({ press, job }, word);
  return named.ok ? named.value.id : named.problem.message;
};

describe('a station as it is typed', () => {
  it('by its id, as the board calls it, by its ink', () => {
    expect(['3', 'd', 'die', 'Leaf', '3 leaf', ' 4 '].map(meant)).toEqual(['3', 'D', 'D', '3', '3', '4']);
  });

  it('what none or two could be is refused with the stations there are', () => {
    expect(meant('9')).toBe('there is no station "9" in the job; the stations are 1, 2, 3, 4, D');
    expect(meant('')).toContain('the stations are');
    const two = { ...job, stations: job.stations.map((s) => (s.id === '4' ? { ...s, ink: 'leaf' } : s)) };
    expect(namedStation({ press, job: two }, 'leaf').ok).toBe(false);
    expect(namedStation({ press, job: two }, '4').ok).toBe(true);
  });
});
