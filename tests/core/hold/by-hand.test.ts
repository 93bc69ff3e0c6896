import { describe, expect, test } from 'vitest';
import { holdSpans } from '../../../src/core/views/hold-views.js';
import { productTotals } from '../../../src/core/views/traced.js';
import { type TryRun, tryRun } from '../../support/try-run.js';

/*
 * Two shifts on each of two presses, worked by hand. The rule: product is held from the last good check (excluded) to the first good check after the
 * correction (included); labels are metres ÷ repeat × around × across, rounded up (nonconforming output, ISO 9001:2015, 8.7; from memory).
 * A sample pulled at W shows station k as it stood when the counter was W − (12 − place of k).
 */

const off = (run: TryRun, roll: number, web_m: number): void =>
  void run.put({ type: 'finished', web_m, roll: String(roll) });
const turn = (run: TryRun, station: string, move_mm: number, web_m: number): void =>
  void run.put({
    type: 'correction',
    station,
    axis: 'along',
    move_mm,
    teeth: 0,
    divisions: Math.round(move_mm / 0.02),
    web_m,
  });
const shift = (run: TryRun, web_m: number): void =>
  void run.put({ type: 'shift', web_m, outgoing: 'MK', incoming: 'JB', note: null });
const parts = (run: TryRun): readonly (readonly [string, number, number | null, number])[] =>
  holdSpans(run.state()).flatMap((span) => span.parts.map((p) => [p.roll, p.from_m, p.to_m, p.labels] as const));

describe('by hand', () => {
  test('press of 1/8 in teeth, 96 of them: repeat 304.8 mm, 3 around, 4 across', () => {
    const run = tryRun();
    const good = { '2': 0.02, '3': -0.01, '4': 0, D: 0.1 };
    // First shift.
    run.check(1, 1_950, good);
    off(run, 1, 2_000);
    run.check(2, 3_940, good);
    off(run, 2, 4_000);
    run.check(3, 5_930, { ...good, '3': 0.27 });
    turn(run, '3', -0.28, 5_960);
    off(run, 3, 6_000);
    // Pulled at 5 965 m: station 3 (at 3.9 m) printed it at 5 965 − 8.1 = 5 956.9 m, before the turn. It reads good, and ends nothing.
    run.check(4, 5_965, good);
    run.check(5, 7_870, good);
    off(run, 4, 8_000);
    shift(run, 8_010);
    // Second shift.
    run.check(6, 9_990, { '2': 0.01, D: 0.1 });
    off(run, 5, 10_000);
    run.check(7, 11_980, { ...good, '4': -0.31 });
    off(run, 6, 12_000);
    turn(run, '4', 0.3, 12_040);
    run.check(8, 13_500, good);
    off(run, 7, 14_000);
    run.put({ type: 'end', web_m: 14_020 });
    const labels = (metres: number): number => Math.ceil((metres / 0.3048) * 3 * 4);
    expect(parts(run)).toEqual([
      // Station 3: last good check 2 at 3 940 m, first good after the turn check 5 at 7 870 m: 3 930 m.
      ['2', 3_940, 4_000, labels(60)],
      ['3', 4_000, 6_000, labels(2_000)],
      ['4', 6_000, 7_870, labels(1_870)],
      // Station 4 was not read at check 6: last good check 5 at 7 870 m, first good check 8 at 13 500 m: 5 630 m.
      ['4', 7_870, 8_000, labels(130)],
      ['5', 8_000, 10_000, labels(2_000)],
      ['6', 10_000, 12_000, labels(2_000)],
      ['7', 12_000, 13_500, labels(1_500)],
    ]);
    // 60 ÷ 0.3048 × 12 = 2 362.2 → 2 363; 2 000: 78 740.2 → 78 741; 1 870: 73 622.05 → 73 623; 130: 5 118.1 → 5 119; 1 500: 59 055.1 → 59 056.
    expect(parts(run).map(([, , , n]) => n)).toEqual([2_363, 78_741, 73_623, 5_119, 78_741, 78_741, 59_056]);
    // 3 930: 154 724.4 → 154 725; 5 630: 221 653.5 → 221 654.
    expect(holdSpans(run.state()).map((s) => [s.from_m, s.to_m, s.labels])).toEqual([
      [3_940, 7_870, 154_725],
      [7_870, 13_500, 221_654],
    ]);
    // 14 020 m made: 551 968.5 → 551 969; held 9 560 m: 376 377.95 → 376 378. Roll 1 is clean; roll 7 came off after the last check.
    expect(productTotals(run.state())).toMatchObject({ made: 551_969, held: 376_378, released: 0, may_ship: ['1'] });
  });

  test('press of module 1 gears, 120 teeth: repeat 376.991 mm, 2 around, 6 across; a turn of the reference, and a release', () => {
    const run = tryRun({ press: { gear: 'module 1' }, job: { repeat_teeth: 120, labels_around: 2, labels_across: 6 } });
    const good = { '2': 0, '3': 0, '4': 0, D: 0 };
    const repeat = (120 * Math.PI) / 1_000;
    // First shift: the reference slips 0.25 mm ahead, so all the others read 0.25 behind; 0.15 is allowed, on the die 0.40.
    run.check(1, 1_500, good);
    off(run, 1, 1_800);
    run.check(2, 3_300, { '2': -0.25, '3': -0.25, '4': -0.25, D: -0.25 });
    turn(run, '1', -0.25, 3_350);
    off(run, 2, 3_600);
    // Station 1 stands at 1.5 m: pulled at 3 360 m it was printed at 3 349.5 m, before the turn.
    run.check(3, 3_360, good);
    run.check(4, 4_800, good);
    off(run, 3, 5_400);
    shift(run, 5_450);
    // Second shift: one label of station 2 across.
    run.check(5, 6_700, good);
    run.check(6, 7_000, { ...good, '2': [0, 0.2] });
    off(run, 4, 7_200);
    run.check(7, 7_250, good);
    off(run, 5, 9_000);
    run.check(8, 9_010, good);
    const labels = (metres: number): number => Math.ceil((metres / repeat) * 12);
    expect(parts(run)).toEqual([
      // 1 500 to 4 800 m: 3 300 m. The die stayed within 0.40 mm and holds nothing.
      ['1', 1_500, 1_800, labels(300)],
      ['2', 1_800, 3_600, labels(1_800)],
      ['3', 3_600, 4_800, labels(1_200)],
      // Nothing was turned: 6 700 m to the next good check at 7 250 m.
      ['4', 6_700, 7_200, labels(500)],
      ['5', 7_200, 7_250, labels(50)],
    ]);
    // 12 ÷ 0.376991 = 31.8310 labels a metre: 9 549.3 → 9 550; 57 295.8 → 57 296; 38 197.2 → 38 198; 15 915.5 → 15 916; 1 591.5 → 1 592.
    expect(parts(run).map(([, , , n]) => n)).toEqual([9_550, 57_296, 38_198, 15_916, 1_592]);
    const set = { type: 'hold', from_m: 6_700, to_m: 7_200, rolls: ['4'] } as const;
    run.put({ ...set, state: 're-inspect' });
    run.put({ ...set, state: 'released', by_second: 'JB' });
    // Held 3 300 + 50 m: 106 633.9 → 106 634. Released 500 m: 15 916. Roll 4 ships again.
    expect(productTotals(run.state())).toMatchObject({ held: 106_634, released: 15_916, may_ship: ['4'] });
  });
});
