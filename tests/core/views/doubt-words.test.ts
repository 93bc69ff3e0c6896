import { describe, expect, it } from 'vitest';
import { doubtOf } from '../../../src/core/views/doubt-words.js';
import { reading } from '../../support/reading.js';
import { tryRun } from '../../support/try-run.js';

const steady = () => {
  const run = tryRun();
  for (let n = 1; n <= 12; n++) run.check(n, n * 2000, { '2': 0.02 * (n % 2), '3': -0.01 * (n % 3), '4': 0, D: 0 });
  return run;
};

describe('a keyed reading that is asked about', () => {
  it('far from what is expected is asked about, with what was expected in the same terms as it was read', () => {
    expect(doubtOf(steady().state(), '3', 'along', 0.5)).toMatch(
      /^3 leaf along \+0\.50 mm; about [-+]?0\.0\d was expected\. Read it again\.$/,
    );
    const run = tryRun({
      job: {
        stations: [{ id: '1' }, { id: '2' }, { id: '3', ink: 'leaf', aim: { along_mm: 1 } }, { id: '4' }, { id: 'D' }],
      },
    });
    for (let n = 1; n <= 12; n++) run.check(n, n * 2000, { '3': 1 + 0.01 * (n % 3), '4': 0 });
    expect(doubtOf(run.state(), '3', 'along', 0.01)).toMatch(/about \+1\.0\d was expected/);
    expect(doubtOf(run.state(), '3', 'along', 1.01)).toBeNull();
  });

  it('a second label that agrees with the first is not asked about again', () => {
    const run = steady();
    run.check(13, 26_000, { '3': 0.5 });
    expect(doubtOf(run.state(), '3', 'along', 0.49)).toBeNull();
    expect(doubtOf(run.state(), '3', 'along', -0.5)).not.toBeNull();
    // Back at the aim: whatever the reading before it was, nothing to ask.
    expect(doubtOf(run.state(), '3', 'along', 0)).toBeNull();
  });

  it('what was turned since the last check is expected of a sample that carries it, and of no other', () => {
    const pulledAt = (web_m: number) => {
      const run = steady();
      for (let n = 13; n <= 20; n++) run.check(n, n * 2000, { '3': 0.4 + 0.01 * (n % 2), '4': 0 });
      const turned = { station: '3', axis: 'along', move_mm: -0.2, teeth: null, divisions: null } as const;
      run.put({ type: 'correction', ...turned, web_m: 40_100 });
      run.put({ type: 'pull', check: 21, web_m, roll: null, counter: 'keyed', place: null });
      return run.state();
    };
    expect(doubtOf(pulledAt(40_103), '3', 'along', -0.6)).toMatch(/about \+0\.4\d was expected/);
    expect(doubtOf(pulledAt(40_200), '3', 'along', -0.6)).toMatch(/about \+0\.2\d was expected/);
    expect(doubtOf(pulledAt(40_200), '3', 'along', 0.2)).toBeNull();
  });

  it('of several samples that wait, what is expected is of the one that is keyed', () => {
    const run = steady();
    for (let n = 13; n <= 20; n++) run.check(n, n * 2000, { '3': 0.4 + 0.01 * (n % 2), '4': 0 });
    run.put({ type: 'pull', check: 21, web_m: 40_050, roll: null, counter: 'keyed', place: null });
    run.put({
      type: 'correction',
      station: '3',
      axis: 'along',
      move_mm: -0.2,
      teeth: null,
      divisions: null,
      web_m: 40_100,
    });
    run.put({ type: 'pull', check: 22, web_m: 40_200, roll: null, counter: 'keyed', place: null });
    expect(doubtOf(run.state(), '3', 'along', -0.6, 21)).toMatch(/about \+0\.4\d was expected/);
    expect(doubtOf(run.state(), '3', 'along', -0.6, 22)).toMatch(/about \+0\.2\d was expected/);
  });

  it('the loupe is held against the scatter of the loupe, not of the much finer sensor', () => {
    const run = steady();
    for (let n = 13; n <= 60; n++)
      run.put({
        type: 'check',
        check: n,
        web_m: 24_000 + n * 15,
        roll: null,
        pulled_at: null,
        source: 'sensor',
        place: null,
        readings: ['2', '3', '4', 'D'].map((id) => reading(id, { along_mm: 0.002 * ((n % 3) - 1), across_mm: 0 })),
      });
    expect(doubtOf(run.state(), '3', 'along', 0.06)).toBeNull();
  });
});
