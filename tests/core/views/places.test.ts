import { describe, expect, it } from 'vitest';
import { actWords } from '../../../src/core/views/act-words.js';
import { atCounter } from '../../../src/core/views/at-counter.js';
import { boardView } from '../../../src/core/views/board.js';
import { eventNames } from '../../../src/core/views/event-names.js';
import { tryRun } from '../../support/try-run.js';
import { frameText, screenWith } from '../../ui/frame-of.js';

const STATIONS = ['2', '3', '4', 'D'];
const full = (at4 = 0): Record<string, number> => Object.fromEntries(STATIONS.map((id) => [id, id === '4' ? at4 : 0]));

/** A press whose counter stood at 9 400 m when OK was given, as most do. */
const from9400 = (length: 'm' | 'ft' = 'm') => {
  const run = tryRun({ make_ready: true, job: { units: { register: 'mm', length } } });
  run.check(1, 9_380, full());
  run.put({ type: 'ok', web_m: 9_400, zero_m: 9_400, passed_by: 'MK', check: 1, hold_to: 'aim' });
  run.put({ type: 'speed', web_m: 0, m_per_min: 120 });
  for (let n = 2; n <= 8; n++) run.check(n, (n - 1) * 1000, full());
  return run;
};

const AT = 1_772_000_000_000 + 60 * 60_000;

describe('a place on the web is told as the press counter showed it', () => {
  it('in movements, entries, holds and the head line, when it was not zero at OK', () => {
    const run = from9400();
    run.put({ type: 'finished', web_m: 7_500, roll: '4' });
    for (let n = 9; n <= 10; n++) run.check(n, (n - 1) * 1000, full(0.3));
    const board = boardView(run.state(), AT);
    const words = JSON.stringify([
      board.events.map((e) => e.sentence),
      board.acts.map((a) => a.words),
      board.hold.map((h) => h.sentence),
    ]);
    // Movement since web 8 000, roll off at web 7 500, held from the last good check at web 7 000.
    expect(words).toContain('17 400 m');
    expect(words).toContain('Finished roll 4 off at 16 900 m');
    expect(words).toContain('16 400 m to now');
    expect(words).not.toMatch(/"[^"]*\b(7 000|7 500|8 000) m/);
  });

  it('what happened in make-ready too: never a metre below zero', () => {
    const run = from9400();
    const names = eventNames(run.state());
    const check: { web_m: number } = run.state().judged.trail[0] ?? { web_m: NaN };
    expect(check.web_m).toBe(-20);
    expect(atCounter(check.web_m, boardView(run.state(), AT))).toBe('9 380 m');
    expect(actWords({ v: 1, seq: 99, at: '2026-11-24T12:00:00.000Z', by: 'MK', type: 'stop', web_m: -20 }, names)).toBe(
      'Stopped at 9 380 m',
    );
  });

  it('in feet where the job counts in feet', () => {
    const run = from9400('ft');
    expect(atCounter(1000, boardView(run.state(), AT))).toBe('34 121 ft');
  });

  it('each in the counter that stood then, where it was set anew', () => {
    const run = from9400();
    run.put({ type: 'counter', web_m: 7_200, offset_m: 7_200 });
    for (let n = 9; n <= 10; n++) run.check(n, (n - 1) * 1000, full());
    const board = boardView(run.state(), AT);
    expect(atCounter(7_000, board)).toBe('16 400 m');
    expect(atCounter(7_500, board)).toBe('300 m');
    expect(board.acts.map((a) => a.words)).toContain('Press counter set anew to 0 m');
  });
});

describe('the head line at 80 columns', () => {
  it.each([10, 9_400, 28_405, 1_234_567])('keeps counter, speed and clock with a counter of %i', (counter) => {
    const board = boardView(from9400().state(), AT);
    for (const job of ['plum', 'plum jam lid with a long name of its own'])
      for (const phase of ['running', 'settling', 'stopped'] as const) {
        const position = { ...board.position, web_m: 0, counter_minus_web_m: counter, counters: undefined };
        const { counters: _, ...bare } = position;
        const view = { ...board, job, phase, settle_until_m: 60, position: { ...bare, estimated: true, age_s: 5_000 } };
        const head = frameText(view, 80, 24, { screen: screenWith({}) }).split('\n')[0] ?? '';
        expect(head).toContain('13:20');
        expect(head).toMatch(/\d m est\./);
        if (phase !== 'stopped') expect(head).toContain('120 m/min');
        if (phase === 'settling') expect(head).toContain('SETTLING');
        expect(head.length).toBeLessThanOrEqual(80);
      }
  });
});
