import { describe, expect, it } from 'vitest';
import { admit } from '../../../src/core/run/admit.js';
import { estimateWeb } from '../../../src/core/web.js';
import { tryRun } from '../../support/try-run.js';

const T = 1_772_000_000_000;

/** Counter 9 400 at OK; told to run 120 m/min, it ran 3 % slower: after ten minutes it is reckoned 36 m too far. */
const running = () => {
  const run = tryRun({ make_ready: true });
  run.put({ type: 'ok', web_m: 9_400, zero_m: 9_400, passed_by: 'MK', check: null, hold_to: 'aim' }, T);
  run.put({ type: 'speed', web_m: 0, m_per_min: 120 }, T);
  return run;
};

describe('a counter read below what the program reckoned', () => {
  it('is taken, and what was reckoned beyond it gives way, in the order it happened', () => {
    const run = running();
    const at = T + 10 * 60_000;
    run.put({ type: 'pull', check: 1, web_m: 1_200, roll: null, counter: 'estimated', age_s: 600, place: null }, at);
    expect(run.state().judged.web.keyed_m).toBe(0);
    run.put({ type: 'position', web_m: 1_164 }, at + 1000);
    const { web, pulls } = run.state().judged;
    expect(estimateWeb(web, at + 1000)).toMatchObject({ web_m: 1_164, counter: 'keyed' });
    expect(pulls.map((p) => p.web_m)).toEqual([1_164]);
    // Turned after the sample was pulled: the sample does not carry it, though its reckoned place lay beyond.
    run.put(
      {
        type: 'check',
        check: 1,
        web_m: 1_164,
        roll: null,
        pulled_at: null,
        source: 'keyed',
        place: null,
        readings: [
          {
            station: '4',
            along_mm: 0.02,
            across_mm: 0,
            look: null,
            edge: null,
            plate: null,
            flaws: null,
            labels: null,
          },
        ],
      },
      at + 2000,
    );
    run.put(
      { type: 'correction', station: '4', axis: 'along', move_mm: -0.02, teeth: 0, divisions: -1, web_m: 1_170 },
      at + 3000,
    );
    expect(run.state().judged.last_check?.web_m).toBe(1_164);
    expect(run.state().judged.turns.map((t) => [t.web_m, t.result])).toEqual([[1_170, null]]);
  });

  it('is refused below the last keyed one, saying what was keyed, what stood and what to press', () => {
    const run = running();
    run.put({ type: 'position', web_m: 1_164 }, T + 600_000);
    const refused = admit(run.state(), { type: 'position', web_m: 1_000 });
    expect(refused.ok ? '' : refused.problem.message).toBe(
      '10 400 m would go back: the counter was keyed at 10 564 m before. Read it again; if it was set anew, press v and choose "set anew".',
    );
  });

  it('a stop whose counter nobody read carries the count on and is not taken for a reading', () => {
    const run = running();
    run.put({ type: 'stop', web_m: 1_200, counter: 'estimated' }, T + 600_000);
    expect(run.state().judged.web).toMatchObject({ keyed_m: 0, running: false });
    run.put({ type: 'position', web_m: 1_170 }, T + 660_000);
    expect(estimateWeb(run.state().judged.web, T + 660_000)?.web_m).toBe(1_170);
  });
});
