import { describe, expect, test } from 'vitest';
import { readJob } from '../../../src/core/job-file.js';
import { readPress } from '../../../src/core/press-file.js';
import { productTotals, tracedFacts } from '../../../src/core/views/traced.js';
import { JOB, PRESS, type TryRun, tryRun } from '../../support/try-run.js';

const good = { '2': 0, '3': 0, '4': 0, D: 0 };
const TRACED = {
  order: '4711',
  customer: 'Plum & Co',
  quantity: 200_000,
  substrate: 'PP white 60',
  substrate_lot: 'L-9',
  plate_set: 'P12',
  die_number: '77',
  stations: JOB.stations.map((s) => (s.id === '2' ? { ...s, ink_lot: 'K1', anilox: '360/4.2' } : s)),
  extra: { 'Customer part': 'A-77' },
};

/** Four rolls of 2 000 m; the third is held from 4 500 m (good at 4 500, out at 5 000, put right, good at 6 000). */
const fourRolls = (job: object = TRACED): TryRun => {
  const run = tryRun({ job });
  run.put({ type: 'roll', web_m: 10, length_m: 9_000, stock: 'S-101', lot: 'L-9' });
  const steps: readonly [number, number, number | null][] = [
    [1, 1_900, 0],
    [2, 4_500, 0],
    [3, 5_000, 0.4],
    [4, 6_000, 0],
    [5, 8_100, 0],
  ];
  let roll = 1;
  for (const [n, web_m, mm] of steps) {
    while (roll * 2_000 <= web_m) run.put({ type: 'finished', web_m: roll * 2_000, roll: String(roll++) });
    run.check(n, web_m, { ...good, '3': mm ?? 0 });
    if (n === 3)
      run.put({
        type: 'correction',
        station: '3',
        axis: 'along',
        move_mm: -0.4,
        teeth: 0,
        divisions: -20,
        web_m: 5_010,
      });
  }
  return run;
};

describe('what the product was made from', () => {
  test('all of it is told, and extra words by their own names', () => {
    const run = fourRolls();
    expect(tracedFacts(run.state(), run.records)).toEqual([
      { term: 'Order', says: '4711' },
      { term: 'Customer', says: 'Plum & Co' },
      { term: 'Ordered', says: '200 000 labels' },
      { term: 'Substrate', says: 'PP white 60' },
      { term: 'Substrate lot', says: 'L-9' },
      { term: 'Stock rolls', says: 'S-101 (lot L-9)' },
      { term: 'Plates', says: 'P12' },
      { term: 'Die', says: '77' },
      { term: 'Inks', says: '2 plum lot K1 anilox 360/4.2' },
      { term: 'Customer part', says: 'A-77' },
    ]);
    expect(tracedFacts(tryRun().state(), [])).toEqual([]);
  });

  test('a job file without any of it stays the job it was; a wrong one is refused by its key', () => {
    const press = readPress(JSON.stringify(PRESS), 'press.json');
    if (!press.ok) throw new Error(press.problem.message);
    const plain = readJob(JSON.stringify(JOB), 'job.json', press.value);
    expect(plain.ok && 'traced' in plain.value).toBe(false);
    const wrong = readJob(JSON.stringify({ ...JOB, quantity: 'many' }), 'job.json', press.value);
    expect(wrong.ok ? '' : wrong.problem.message).toMatch(/quantity/);
  });
});

describe('labels and rolls', () => {
  // By hand: 12 labels in 0.3048 m; 8 100 m are 318 897.6, rounded up; 1 500 m (4 500 to 6 000) are 59 055.1.
  test('made, held, and which rolls may ship', () =>
    expect(productTotals(fourRolls().state())).toEqual({
      made: 318_898,
      ordered: 200_000,
      held: 59_056,
      released: 0,
      reworked: 0,
      scrapped: 0,
      may_ship: ['1', '2', '4'],
    }));

  test('released, the roll may ship; scrapped, it may not', () => {
    const set = (run: TryRun, state: 're-inspect' | 'released' | 'scrapped'): unknown =>
      run.put({ type: 'hold', from_m: 4_500, to_m: 6_000, rolls: ['3'], state, by_second: 'JB' });
    const released = fourRolls();
    set(released, 're-inspect');
    set(released, 'released');
    expect(productTotals(released.state())).toMatchObject({
      held: 0,
      released: 59_056,
      may_ship: ['1', '2', '3', '4'],
    });
    const scrapped = fourRolls();
    set(scrapped, 're-inspect');
    set(scrapped, 'scrapped');
    expect(productTotals(scrapped.state())).toMatchObject({ scrapped: 59_056, may_ship: ['1', '2', '4'] });
  });
});
