import { describe, expect, test } from 'vitest';
import type { RecordBody, StationReading } from '../../../src/core/record.js';
import { outOfRegister } from '../../../src/core/views/out-of-register.js';
import { warningRate } from '../../../src/core/views/warning-rate.js';
import { keyedCheck, reading } from '../../support/reading.js';
import { told } from '../../support/told.js';
import { tryRun } from '../../support/try-run.js';

const body = (station: string, along_mm: number): StationReading => reading(station, { along_mm, across_mm: 0 });
const checkAt = (check: number, web_m: number, along_mm = 0.01): RecordBody =>
  keyedCheck(
    check,
    web_m,
    ['2', '3', '4', 'D'].map((id) => body(id, id === '3' ? along_mm : 0)),
  );

describe('the whole of a run', () => {
  test('charts hold every check of the log, far more than the state remembers', () => {
    const run = tryRun();
    for (let n = 1; n <= 500; n += 1) run.put(checkAt(n, n * 100, n % 2 === 0 ? 0.01 : -0.01));
    expect(run.state().judged.trail.length).toBeLessThan(500);
    const view = told(run.records);
    const chart = view.charts?.find((c) => c.station === '3' && c.axis === 'along');
    expect(chart?.points.length).toBe(500);
    expect(chart?.points[0]).toMatchObject({ web_m: 100, mm: -0.01, withdrawn: false });
    expect(view.charts?.map((c) => `${c.station} ${c.axis}`)).toHaveLength(8);
  });

  test('a check taken back stands on the chart as such, and counts for nothing else', () => {
    const run = tryRun();
    for (let n = 1; n <= 4; n += 1) run.put(checkAt(n, n * 1000, n === 3 ? 0.5 : 0));
    run.put({ type: 'withdraw', check: 3, entry: null, web_m: null });
    const view = told(run.records);
    const chart = view.charts?.find((c) => c.station === '3' && c.axis === 'along');
    expect(chart?.points.map((p) => [p.web_m, p.withdrawn])).toEqual([
      [1000, false],
      [2000, false],
      [3000, true],
      [4000, false],
    ]);
    expect(chart?.trend).toHaveLength(3);
    expect(view.whole?.out.at_most.m).toBe(0);
  });

  test('make-ready is told in metres before OK to run, and left off the charts', () => {
    const run = tryRun({ make_ready: true });
    run.put({ type: 'finished', web_m: 4_900, roll: '0' });
    run.put(checkAt(1, 4_950, 2));
    run.put(checkAt(2, 5_000, 0));
    run.put({ type: 'ok', web_m: 5_000, zero_m: 5_000, passed_by: 'MK', check: 2, hold_to: 'aim' });
    run.put(checkAt(3, 1_000, 0.01));
    const view = told(run.records);
    expect(view.log.find((l) => l.words.startsWith('Finished roll 0'))?.web_m).toBe(-100);
    const chart = view.charts?.find((c) => c.station === '3' && c.axis === 'along');
    expect(chart?.points.map((p) => p.web_m)).toEqual([0, 1_000]);
  });

  test('finished rolls and the last shift change', () => {
    const run = tryRun();
    run.put({ type: 'finished', web_m: 2_000, roll: '7' });
    run.put({ type: 'finished', web_m: 4_100, roll: '8' });
    run.put({ type: 'shift', web_m: 4_200, outgoing: 'MK', incoming: 'JB', note: null });
    const view = told(run.records);
    expect(view.finished_rolls?.slice(0, 2)).toEqual([
      { roll: '7', from_m: 0, to_m: 2_000 },
      { roll: '8', from_m: 2_000, to_m: 4_100 },
    ]);
    expect(view.sign_off).toMatchObject({ outgoing: 'MK', incoming: 'JB' });
    const shift_at = view.sign_off?.at ?? '';
    expect(told(run.records, shift_at).sign_off).toBeNull();
  });

  test('of a shift, what was made and checked in it', () => {
    const run = tryRun();
    for (let n = 1; n <= 6; n += 1) run.put(checkAt(n, n * 1_000));
    const fourth = run.records.find((r) => r.type === 'check' && r.check === 4)?.at ?? '';
    const view = told(run.records, fourth);
    expect([view.made_m, view.checks.made]).toEqual([2_000, 3]);
    expect(told(run.records).checks.made).toBe(6);
  });

  test('checks left out by the plan of the job: rolls of 2 000 m, none at 4 000 and 6 000 m', () => {
    const run = tryRun({ job: { checks: { every_roll: true } } });
    run.put(checkAt(1, 2_000));
    run.put(checkAt(2, 8_000));
    run.put(checkAt(3, 11_000));
    const rounds = told(run.records).whole?.rounds;
    expect(rounds).toEqual({
      made: 3,
      late: 1,
      missed: 2,
      missed_at: [
        { web_m: 4_000, why: 'roll off' },
        { web_m: 6_000, why: 'roll off' },
      ],
    });
  });

  test('a knob that gives 80 % is told to the next run', () => {
    const run = tryRun();
    let at = 0;
    run.put(checkAt(1, 1_000, at));
    for (let n = 1; n <= 6; n += 1) {
      run.put({
        type: 'correction',
        station: '3',
        axis: 'along',
        move_mm: 0.5,
        teeth: 0,
        divisions: 25,
        web_m: n * 1_000 + 20,
      });
      at += 0.4;
      run.put(checkAt(n + 1, (n + 1) * 1_000, at));
    }
    const [lesson] = told(run.records).whole?.knobs ?? [];
    expect(lesson).toMatchObject({ station: '3', axis: 'along' });
    expect(lesson?.known.moves).toBe(6);
    expect(lesson?.known.gain.plus).toBeGreaterThan(0.7);
    expect(lesson?.known.gain.plus).toBeLessThan(0.95);
  });
});

test('out of register, by hand: good at 1 000 m, out at 3 000 and 5 000 m, good at 7 000 m', () => {
  const at = (minute: number): string => new Date(Date.UTC(2026, 2, 2, 6, minute)).toISOString();
  const checks = [
    { web_m: 1_000, at: at(0), out: false },
    { web_m: 3_000, at: at(10), out: true },
    { web_m: 5_000, at: at(20), out: true },
    { web_m: 7_000, at: at(30), out: false },
    { web_m: 9_000, at: at(40), out: false },
  ];
  expect(outOfRegister(checks)).toEqual({ surely: { m: 2_000, min: 10 }, at_most: { m: 6_000, min: 30 } });
  expect(outOfRegister([])).toEqual({ surely: { m: 0, min: 0 }, at_most: { m: 0, min: 0 } });
});

test('warnings, by hand: 4 in 2 h is 2 an hour; the most in any ten minutes is counted over a moving window', () => {
  const at = (minute: number): string => new Date(Date.UTC(2026, 2, 2, 6, minute)).toISOString();
  expect(warningRate([at(0), at(9), at(18), at(60)], 7_200_000)).toEqual({
    total: 4,
    each_hour: 2,
    most_in_10_min: 2,
  });
  expect(warningRate([at(0), at(10)], 7_200_000).most_in_10_min).toBe(1);
  expect(warningRate([at(0)], 60_000).each_hour).toBeNull();
});
