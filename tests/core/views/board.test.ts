import { describe, expect, it } from 'vitest';
import { boardView } from '../../../src/core/views/board.js';
import { tryRun } from '../../support/try-run.js';

const START = 1_772_000_000_000;

describe('the board', () => {
  it('says how far the roll on the rewind has been wound, in metres, as the counter is carried on', () => {
    const run = tryRun();
    run.put({ type: 'speed', m_per_min: 120, web_m: 0 }, START);
    run.put({ type: 'finished', roll: '1', web_m: 1500 }, START + 60_000);
    expect(boardView(run.state(), START + 60_000).finished_roll).toEqual({ running: '2', last_off: '1', since_m: 0 });
    expect(boardView(run.state(), START + 90_000).finished_roll.since_m).toBeCloseTo(60, 6);
  });

  it('says which axis of a station is missing before OK to run', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 10, { '2': 0.01, '3': [0.02, null], '4': 0, D: [0, null] });
    expect(boardView(run.state(), START).ok_to_run.why).toBe(
      'OK to run needs one full check; not read yet: 3 leaf across and die across.',
    );
    run.check(2, 20, { '3': 0, D: 0 });
    expect(boardView(run.state(), START).ok_to_run.possible).toBe(true);
  });
});
