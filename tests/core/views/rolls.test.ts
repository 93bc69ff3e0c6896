import { describe, expect, it } from 'vitest';
import { admit } from '../../../src/core/run/admit.js';
import { actWords } from '../../../src/core/views/act-words.js';
import { boardView } from '../../../src/core/views/board.js';
import { eventNames } from '../../../src/core/views/event-names.js';
import { rollRow } from '../../../src/ui/draw/rolls.js';
import { plainText } from '../../../src/ui/draw/row.js';
import { tryRun } from '../../support/try-run.js';

const AT = Date.parse('2026-11-24T12:00:00Z');
const along = (at4 = 0) => ({ '2': 0, '3': 0, '4': at4, D: 0 });

describe('the row of finished rolls', () => {
  const run = tryRun();
  for (let n = 1; n <= 4; n++) {
    run.put({ type: 'finished', web_m: n * 2000, roll: String(n) });
    run.check(n, n * 2000 + 5, along());
  }
  run.put({ type: 'finished', web_m: 10_000, roll: '5' });
  run.check(5, 10_005, along(0.3));
  run.put({ type: 'finished', web_m: 12_000, roll: '6' });

  it('says which are good and which are held, what was made since the last good check among them', () => {
    const view = boardView(run.state(), AT);
    expect(view.rolls.map((one) => `${one.roll} ${one.state}`)).toEqual([
      '1 good',
      '2 good',
      '3 good',
      '4 good',
      '5 held',
      '6 held',
    ]);
    expect(plainText(rollRow(view, 80)).trim()).toBe('rolls         1 2 3 4 good   5 6 HELD   7 now');
  });

  it.each([60, 80, 120])('never cuts a word at %i columns, and leaves out the oldest', (width) => {
    const view = boardView(run.state(), AT);
    const many = {
      ...view,
      rolls: Array.from({ length: 12 }, (_, i) => ({ roll: String(100 + i), state: i % 2 === 0 ? 'held' : 'good' })),
    } as typeof view;
    const text = plainText(rollRow(many, width));
    expect(text.length).toBeLessThanOrEqual(width);
    expect(text).toMatch(/111 good {3}7 now$/);
  });
});

describe('creep a roll', () => {
  it('is said where the readings show it, and left out where they do not', () => {
    const run = tryRun();
    for (let n = 1; n <= 8; n++) run.check(n, n * 1000, { ...along(n * 0.01), '3': n % 2 === 0 ? 0.01 : -0.01 });
    const view = boardView(run.state(), AT);
    const of = (id: string) => view.stations.find((one) => one.id === id)?.axes.along.creep_mm_roll;
    // 0.01 mm a check, checks 1 000 m apart, rolls of 2 000 m.
    expect(of('4')).toBeCloseTo(0.02, 9);
    expect(of('3')).toBeUndefined();
  });
});

describe('tension, dryer or stock changed here', () => {
  it('is in the log in words, with its place, and is known to whoever plans', () => {
    const run = tryRun();
    run.check(1, 1000, along());
    run.put({ type: 'web-set', web_m: 1500, what: 'tension', looked_to: 'unwind brake 2 up' });
    expect(run.state().judged.tension_looked_m).toBe(1500);
    const record = run.records.at(-1);
    if (record === undefined) throw new Error('no record');
    expect(actWords(record, eventNames(run.state()))).toBe('Tension changed at 1 500 m: unwind brake 2 up');
  });
});

describe('a sample pulled by mistake', () => {
  it('can be thrown away, and waits no more', () => {
    const run = tryRun();
    run.check(1, 1000, along());
    run.put({ type: 'pull', check: 2, web_m: 1500, roll: null, counter: 'keyed', place: null });
    expect(run.state().judged.pulls.length).toBe(1);
    run.put({ type: 'withdraw', check: 2, entry: null, web_m: 1500 });
    expect(run.state().judged.pulls).toEqual([]);
    expect(admit(run.state(), { type: 'withdraw', check: 2, entry: null, web_m: 1500 }).ok).toBe(false);
    expect(run.state().judged.last_check?.check).toBe(1);
  });
});
