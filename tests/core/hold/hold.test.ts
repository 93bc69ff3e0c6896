import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Place } from '../../../src/core/finding.js';
import {
  beginHold,
  type HoldCheck,
  type HoldConfig,
  type HoldState,
  holdCorrected,
  holdRollOff,
  movedHolds,
  passHold,
  stepHold,
  type ToldSpan,
} from '../../../src/core/hold/hold.js';
import { labelsIn } from '../../../src/core/hold/labels-in.js';
import { rollParts } from '../../../src/core/hold/roll-ends.js';
import { settlingStretch } from '../../../src/core/hold/settling-stretch.js';
import type { PlateGrade } from '../../../src/core/record.js';

const count = { repeat_m: 0.3048, around: 3, across: 4 };
const tolerance = { along: 0.15, across: 0.15 };
const config: HoldConfig = {
  reference: '1',
  tolerance_mm: { '2': tolerance, '3': tolerance, '4': tolerance },
  pairs: [{ stations: ['2', '3'], tolerance_mm: { along: 0.12, across: null } }],
  count,
};

/** Under which movement a station is told. */
type Told = { readonly event: number; readonly station: string };
type Step = HoldCheck & { readonly events: readonly Told[] };
type Row = { readonly station: string; readonly along?: number; readonly plate?: PlateGrade };
const at = (
  check: number,
  web_m: number,
  roll: string | null,
  rows: readonly Row[],
  out: readonly Told[] = [],
  lag = 8,
): Step => ({
  events: out,
  place: { check, web_m, roll },
  readings: rows.map((row) => ({
    station: row.station,
    along_mm: row.along ?? null,
    across_mm: null,
    plate: row.plate ?? null,
    printed_m: web_m - lag,
  })),
  reference_printed_m: web_m - lag,
});
const along = (station: string, event = 1): Told => ({ event, station });

const run = (
  state: HoldState,
  steps: readonly (Step | ((s: HoldState) => HoldState))[],
): { state: HoldState; said: Omit<ToldSpan, 'key'>[] } => {
  const said: Omit<ToldSpan, 'key'>[] = [];
  let now = state;
  for (const step of steps) {
    if (typeof step === 'function') now = step(now);
    else {
      const was = now.spans;
      now = stepHold(now, config, step, (station) => step.events.find((e) => e.station === station)?.event ?? null);
      said.push(...now.spans.filter((span) => !was.includes(span)).map(({ key: _, ...span }) => span));
    }
  }
  return { state: now, said };
};
const off = (roll: string, web_m: number) => (s: HoldState) => holdRollOff(s, roll, web_m);

describe('labels', () => {
  it('4 550 m of 304.8 mm, 3 around, 4 across: 179 134 (CONTRACT)', () =>
    expect(labelsIn(21450 - 16900, count)).toBe(179134));
  it('rounds up, and whole counts stay whole', () => {
    expect(labelsIn(0.3048, count)).toBe(12);
    expect(labelsIn(0.305, count)).toBe(13);
  });
});

describe('product to hold', () => {
  it('from the last good check, excluded, to the first good one, included; finished rolls that overlap (CONTRACT)', () => {
    const { said } = run(beginHold(), [
      at(26, 16900, '7', [{ station: '4', along: 0.05 }]),
      off('7', 16900),
      at(30, 18500, '8', [{ station: '4', along: 0.2 }], [along('4')]),
      off('8', 19000),
      at(31, 19000, '8', [{ station: '4', along: 0.18 }], [along('4')]),
      (s) => holdCorrected(s, '4', 'along', 19010),
      at(33, 21450, '9', [{ station: '4', along: 0.01 }]),
    ]);
    expect(said).toEqual([
      {
        event: 1,
        station: '4',
        from: { check: 26, web_m: 16900, roll: '7' },
        to: null,
        rolls: ['8'],
        labels: labelsIn(1600, count),
      },
      {
        event: 1,
        station: '4',
        from: { check: 26, web_m: 16900, roll: '7' },
        to: { check: 33, web_m: 21450, roll: '9' },
        rolls: ['8', '9'],
        labels: 179134,
      },
    ]);
  });
  it('the same rolls without any roll-off told, from the checks alone', () => {
    const { said } = run(beginHold(), [
      at(26, 16900, '7', [{ station: '4', along: 0.05 }]),
      at(30, 18900, '8', [{ station: '4', along: 0.2 }], [along('4')]),
      at(33, 21450, '9', [{ station: '4', along: 0.01 }]),
    ]);
    expect(said[1]?.rolls).toEqual(['8', '9']);
  });
  it('a check that did not measure the station settles nothing', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [{ station: '4', along: 0 }]),
      at(2, 200, '1', [{ station: '2', along: 0 }]),
      at(3, 300, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      at(4, 400, '1', [{ station: '2', along: 0 }]),
      at(5, 500, '1', [{ station: '4', along: 0 }]),
    ]);
    expect(said.map((s) => [s.from.check, s.to?.check ?? null])).toEqual([
      [1, null],
      [1, 5],
    ]);
  });
  it('good by luck on a sample printed before the correction does not end it', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [{ station: '4', along: 0 }]),
      at(2, 200, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      (s) => holdCorrected(s, '4', 'along', 205),
      at(3, 210, '1', [{ station: '4', along: 0.14 }]),
      at(4, 300, '1', [{ station: '4', along: 0 }]),
    ]);
    expect(said.at(-1)?.to?.check).toBe(4);
  });
  it('a move of the reference counts for every station', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [{ station: '4', along: 0 }]),
      at(2, 200, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      (s) => holdCorrected(s, '1', 'along', 205),
      at(3, 210, '1', [{ station: '4', along: 0.14 }]),
      at(4, 300, '1', [{ station: '4', along: 0 }]),
    ]);
    expect(said.at(-1)?.to?.check).toBe(4);
  });
  it('inside its own tolerance is not good while its pair is out, nor until both were measured', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [
        { station: '2', along: 0 },
        { station: '3', along: 0 },
      ]),
      at(
        2,
        200,
        '1',
        [
          { station: '2', along: 0.1 },
          { station: '3', along: -0.05 },
        ],
        [along('2'), along('3')],
      ),
      at(3, 300, '1', [{ station: '2', along: 0.02 }]),
      at(4, 400, '1', [
        { station: '2', along: 0.02 },
        { station: '3', along: -0.05 },
      ]),
    ]);
    expect(said.map((s) => [s.from.check, s.to?.check ?? null])).toEqual([
      [1, null],
      [1, 4],
    ]);
  });
  it('an event over several stations: from the earliest last good check to when all are good', () => {
    const { said } = run(passHold(beginHold(), { check: 0, web_m: 0, roll: null }), [
      at(1, 100, '1', [
        { station: '2', along: 0 },
        { station: '4', along: 0 },
      ]),
      at(2, 200, '1', [{ station: '4', along: 0 }]),
      at(3, 300, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      at(4, 400, '1', [{ station: '2', along: 0.3 }], [along('2')]),
      at(5, 500, '1', [{ station: '4', along: 0 }]),
      at(6, 600, '1', [{ station: '2', along: 0 }]),
    ]);
    expect(said.map((s) => [s.from.check, s.to?.check ?? null])).toEqual([
      [2, null],
      [1, 6],
    ]);
  });
  it('never measured good: from OK to run', () => {
    const ok: Place = { check: 3, web_m: 0, roll: null };
    const { said } = run(passHold(beginHold(), ok), [at(4, 900, '1', [{ station: '4', along: 0.5 }], [along('4')])]);
    expect(said[0]?.from).toEqual(ok);
  });
  it('a second label of the same sample that reads inside ends what a misread began', () => {
    const { said, state } = run(beginHold(), [
      at(1, 100, '1', [{ station: '4', along: 0.07 }]),
      at(2, 200, '1', [{ station: '4', along: 0.45 }], [along('4')]),
      at(3, 203, '1', [{ station: '4', along: 0.07 }]),
    ]);
    expect(said.map((s) => [s.from.web_m, s.to?.web_m ?? null])).toEqual([
      [100, null],
      [100, 203],
    ]);
    expect(state.open).toEqual([]);
  });
  it('one station is good again while another of the same movement is not: each has its own stretch, told together', () => {
    const { said, state } = run(beginHold(), [
      at(1, 100, '1', [
        { station: '3', along: 0 },
        { station: '4', along: 0 },
      ]),
      at(
        2,
        200,
        '1',
        [
          { station: '3', along: 0.2 },
          { station: '4', along: 0.2 },
        ],
        [along('3'), along('4')],
      ),
      at(3, 300, '1', [
        { station: '3', along: 0 },
        { station: '4', along: 0.2 },
      ]),
      at(4, 400, '1', [{ station: '4', along: 0 }]),
    ]);
    expect(state.ended.map((h) => [h.station, h.from.web_m, h.to?.web_m])).toEqual([
      ['3', 100, 300],
      ['4', 100, 400],
    ]);
    expect(said.map((s) => [s.event, s.from.web_m, s.to?.web_m ?? null])).toEqual([
      [1, 100, null],
      [1, 100, 400],
    ]);
  });
  it('under no movement it is held all the same', () => {
    const { said } = run(beginHold(), [at(2, 200, '1', [{ station: '4', along: 0.2 }])]);
    expect(said).toMatchObject([{ event: null, station: '4', to: null }]);
  });
  it('seen off without a number holds every axis on which the station is read', () => {
    const seen = (check: number, m: number, look: 'in' | 'off' | null, mm: number | null): Step => {
      const step = at(check, m, '1', [{ station: '4', ...(mm === null ? {} : { along: mm }) }]);
      return { ...step, readings: step.readings.map((r) => ({ ...r, look, read_on: ['along', 'across'] as const })) };
    };
    const { state } = run(beginHold(), [seen(1, 100, null, 0), seen(2, 200, 'off', null), seen(3, 300, null, 0)]);
    expect(state.ended.map((h) => [h.axis, h.from.web_m, h.to?.web_m])).toEqual([['along', 100, 300]]);
    expect(state.open.map((h) => h.axis)).toEqual(['across']);
  });
  it('a station that is only looked at is good when it is seen in', () => {
    const look = (check: number, m: number, seen: 'in' | 'off'): Step => {
      const step = at(check, m, '1', [{ station: '4' }]);
      return { ...step, readings: step.readings.map((r) => ({ ...r, look: seen, only_looked: true })) };
    };
    const { said } = run(beginHold(), [look(1, 100, 'in'), look(2, 200, 'off'), look(3, 300, 'in')]);
    expect(said.at(-1)).toMatchObject({ from: { web_m: 100 }, to: { web_m: 300 } });
  });
  it('a pair is not good again on a sample printed before the knob of either was turned', () => {
    const both = (check: number, m: number, two: number, three: number) =>
      at(check, m, '1', [
        { station: '2', along: two },
        { station: '3', along: three },
      ]);
    const { state } = run(beginHold(), [
      both(1, 100, 0, 0),
      both(2, 200, 0.1, -0.05),
      (s) => holdCorrected(s, '3', 'along', 205),
      both(3, 210, 0.02, 0),
      both(4, 300, 0.02, 0),
    ]);
    expect(state.ended.map((h) => [h.station, h.to?.check])).toEqual([
      ['2', 4],
      ['3', 4],
    ]);
  });
  it('what was turned and taken off in make-ready by the press counter is counted from OK to run', () => {
    const made_ready = holdRollOff(holdCorrected(beginHold(), '4', 'along', 5_040), '1', 5_030);
    const { said } = run(
      passHold(
        movedHolds(made_ready, (m) => m - 5_100),
        { check: 1, web_m: 0, roll: '1' },
      ),
      [at(2, 400, null, [{ station: '4', along: 0.2 }]), at(3, 900, null, [{ station: '4', along: 0 }])],
    );
    expect(said.at(-1)).toMatchObject({ from: { web_m: 0 }, to: { web_m: 900 }, rolls: ['2'] });
  });
  it('a second time out after a good check is a new stretch from that check', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      at(2, 200, '1', [{ station: '4', along: 0 }]),
      at(3, 300, '1', [{ station: '4', along: 0.2 }], [along('4')]),
      at(4, 400, '1', [{ station: '4', along: 0 }]),
    ]);
    expect(said.map((s) => [s.from.web_m, s.to?.web_m ?? null])).toEqual([
      [0, null],
      [0, 200],
      [200, null],
      [200, 400],
    ]);
  });
  it('a dirty plate: from its last clean check to the first clean one printed after the wash; building settles nothing', () => {
    const { said } = run(beginHold(), [
      at(1, 100, '1', [{ station: '3', plate: 'clean' }]),
      at(2, 200, '1', [{ station: '3', plate: 'building' }]),
      at(3, 300, '1', [{ station: '3', plate: 'dirty' }]),
      (s) => holdCorrected(s, '3', 'plate', 310),
      at(4, 315, '1', [{ station: '3', plate: 'clean' }]),
      at(5, 400, '1', [{ station: '3', plate: 'building' }]),
      at(6, 500, '1', [{ station: '3', plate: 'clean' }]),
    ]);
    expect(said.map((s) => [s.event, s.station, s.from.check, s.to?.check ?? null])).toEqual([
      [null, '3', 1, null],
      [null, '3', 1, 6],
    ]);
  });
  it('the same said after a trip through JSON between any two checks', () => {
    const steps = fc.array(fc.record({ good: fc.boolean(), station: fc.constantFrom('2', '3', '4') }), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(steps, (list) => {
        const checks = list.map(({ good, station }, i) =>
          at(i + 1, (i + 1) * 100, String(i), [{ station, along: good ? 0 : 0.4 }], good ? [] : [along(station)]),
        );
        const plain = run(beginHold(), checks).said;
        const through = run(
          beginHold(),
          checks.flatMap((check) => [check, (s: HoldState) => JSON.parse(JSON.stringify(s)) as HoldState]),
        );
        expect(through.said).toEqual(plain);
      }),
    );
  });
});

describe('for reports', () => {
  it('the parts of rolls cover a stretch without gap or overlap, whatever checks carried', () => {
    const rolls = fc.array(fc.tuple(fc.integer({ min: 1, max: 90 }), fc.boolean()), { maxLength: 8 });
    const stretch = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 1, max: 400 }));
    fc.assert(
      fc.property(rolls, stretch, (list, [from, length]) => {
        let m = 0;
        let state = beginHold();
        for (const [i, [metres, told]] of list.entries()) {
          m += metres;
          state = told
            ? holdRollOff(state, String(i + 1), m)
            : stepHold(state, config, at(i, m, String(i + 1), []), () => null);
        }
        const parts = rollParts(state.rolls, from, from + length);
        expect(parts[0]?.from_m).toBe(from);
        expect(parts.at(-1)?.to_m).toBe(from + length);
        for (const [i, part] of parts.entries()) if (i > 0) expect(part.from_m).toBe(parts[i - 1]?.to_m);
      }),
    );
  });
  it('what settles after a start is waste to check, up to where the web stands', () => {
    expect(settlingStretch(1000, 60, 2000, [], count)).toEqual({
      from_m: 1000,
      to_m: 1060,
      rolls: ['1'],
      labels: labelsIn(60, count),
    });
    expect(settlingStretch(1000, 60, 1010, [], count)?.to_m).toBe(1010);
    expect(settlingStretch(1000, 0, 2000, [], count)).toBeNull();
  });
});
