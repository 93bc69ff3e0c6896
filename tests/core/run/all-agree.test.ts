import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { StationReading } from '../../../src/core/record.js';
import { boardView } from '../../../src/core/views/board.js';
import { chartView } from '../../../src/core/views/chart.js';
import { isOpenHold } from '../../../src/core/views/hold-views.js';
import { handoverOf } from '../../support/handover-of.js';
import { keyedCheck, reading } from '../../support/reading.js';
import { JOB } from '../../support/try-run.js';

/** What one station was seen as on one check: hundredths of a mm less the aim, a look without a number, or not looked at. */
type Seen = number | 'in' | 'off' | null;

const MEASURED = ['2', '3', '4'] as const;
const TOLERANCE = 15;
const PAIR = 12;

const seen: fc.Arbitrary<Seen> = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: -10, max: 10 }) },
  { weight: 2, arbitrary: fc.integer({ min: -40, max: 40 }) },
  { weight: 1, arbitrary: fc.constantFrom('in' as const, 'off' as const) },
  { weight: 1, arbitrary: fc.constant(null) },
);
const check = fc.record({ '2': seen, '3': seen, '4': seen });

const readingOf = (station: string, of: Seen, aim: number): StationReading =>
  typeof of === 'number'
    ? reading(station, { along_mm: (aim + of) / 100, across_mm: 0 })
    : reading(station, { look: of });

describe('random runs: make-ready at any counter, then OK to run, aims that are not 0, a pair, a fixed die, looks without numbers', () => {
  const run = fc.record({
    counter: fc.integer({ min: 0, max: 90_000 }),
    aim: fc.integer({ min: -30, max: 30 }),
    makeReady: check,
    turned: fc.integer({ min: -20, max: 20 }),
    rollOff: fc.boolean(),
    checks: fc.array(check, { minLength: 1, maxLength: 7 }),
  });

  it('board, chart, handover and holds say the same of each station, and it is what was read', () => {
    fc.assert(
      fc.property(run, ({ counter, aim, makeReady, turned, rollOff, checks }) => {
        const aims = { '2': aim, '3': 0, '4': 0 } as const;
        const read = (one: Readonly<Record<(typeof MEASURED)[number], Seen>>) =>
          MEASURED.flatMap((id) => (one[id] === null ? [] : [readingOf(id, one[id], aims[id])]));
        const { view, state } = handoverOf(
          (try_) => {
            const first = read(makeReady);
            if (first.length > 0) try_.put(keyedCheck(1, counter + 50, first));
            if (turned !== 0)
              try_.put({
                type: 'correction',
                station: '3',
                axis: 'along',
                move_mm: turned / 100,
                teeth: null,
                divisions: null,
                web_m: counter + 60,
              });
            if (rollOff) try_.put({ type: 'roll', web_m: counter + 70, length_m: null });
            const ok_m = counter + 200;
            try_.put({ type: 'ok', web_m: ok_m, zero_m: ok_m, passed_by: 'MK', check: null, hold_to: 'aim' });
            checks.forEach((one, i) => {
              try_.put(keyedCheck(i + 2, 1000 * (i + 1), [...read(one), reading('D', { along_mm: 0.05 })]));
            });
          },
          {
            make_ready: true,
            job: {
              pairs: [{ stations: ['2', '3'], along_mm: PAIR / 100 }],
              stations: JOB.stations.map((one) =>
                one.id === '2' ? { ...one, aim: { along_mm: aim / 100, across_mm: 0 } } : one,
              ),
            },
          },
        );
        const board = boardView(state, 1_772_100_000_000);
        const open = state.judged.holds.open;
        const apart = lastApart(checks);

        for (const id of MEASURED) {
          const numbers = checks.map((one) => one[id]).filter((one) => typeof one === 'number');
          const last = numbers.at(-1);
          const shown = board.stations.find((one) => one.id === id)?.axes.along.last_mm;
          if (last === undefined) continue;
          expect(shown, `${id} on the board`).toBeCloseTo(last / 100, 9);
          const points = chartView(state, id, 'along', null).points;
          expect(points.at(-1)?.mm, `${id} on the chart`).toBeCloseTo(last / 100, 9);

          const held = open.filter((hold) => hold.station === id && hold.axis === 'along');
          const after = checks.slice(checks.findLastIndex((one) => typeof one[id] === 'number') + 1);
          const own = Math.abs(last) > TOLERANCE || after.some((one) => one[id] === 'off');
          if (own) expect(held.length, `${id} is held`).toBe(1);
          if (!own && !(apart && id !== '4')) expect(held.length, `${id} is not held`).toBe(0);
        }
        for (const hold of open) expect(hold.from.web_m).toBeGreaterThanOrEqual(0);
        for (const hold of open) expect(hold.from.web_m % 1000).toBe(0);

        const goesOn = view.holds.filter(isOpenHold).some(({ to_m }) => to_m === null);
        expect(goesOn, 'the handover holds what is held').toBe(open.length > 0);
        expect(
          board.hold.some((one) => one.open),
          'and so does the board',
        ).toBe(open.length > 0);
      }),
      { numRuns: 60 },
    );
  });
});

/** Whether 2 and 3 were apart when both were last read. */
const lastApart = (checks: readonly Readonly<Record<'2' | '3', Seen>>[]): boolean => {
  const both = checks.findLast((one) => typeof one['2'] === 'number' && typeof one['3'] === 'number');
  return both !== undefined && Math.abs(Number(both['2']) - Number(both['3'])) > PAIR;
};
