import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FLAW_KINDS, flawFields } from '../../../src/core/plates/flaw.js';
import { fromLog, recordsToCsv, type ToWrite } from '../../../src/core/readings-csv.js';
import type { Check, LogRecord, RecordBody, StationReading } from '../../../src/core/record.js';
import { HEAD, runsOf } from './example-setup.js';

const log = (
  ...bodies: readonly (RecordBody & { readonly at?: string; readonly by?: string })[]
): readonly LogRecord[] =>
  bodies.map((body, index) => ({
    v: 1,
    seq: index + 1,
    at: `2026-03-02T09:${String(index).padStart(2, '0')}:00.000Z`,
    by: 'MK',
    ...body,
  }));
const reading = (station: string, along_mm: number | null): StationReading => ({
  station,
  along_mm,
  across_mm: null,
  look: null,
  edge: null,
  plate: null,
  flaws: null,
  labels: null,
});
const check = (id: number, web_m: number, pulled_at: string | null, along_mm = 0.05): Check => ({
  type: 'check',
  check: id,
  web_m,
  roll: null,
  pulled_at,
  source: 'keyed',
  place: null,
  readings: [reading('2', along_mm)],
});

const back = (text: string): readonly RecordBody[] =>
  runsOf(text).flatMap(({ records }) => records.map(({ body }) => body));

describe('records as a readings CSV', () => {
  test('as it stands in the file', () => {
    const text = recordsToCsv(
      fromLog(log({ ...check(1, 700.5, null, -0.05), note: '=1+1, "x"' }, { type: 'stop', web_m: 701 })),
      'A',
    );
    expect(text).toBe(
      `${[HEAD, 'A,1,2026-03-02T09:00:00.000Z,700.5,,reading,2,-0.05,,,,,,,,MK,', `A,1,2026-03-02T09:00:00.000Z,700.5,,reading,,,,,,,,,,MK,"'=1+1, ""x"""`, 'A,,2026-03-02T09:01:00.000Z,701,,stop,,,,,,,,,,MK,'].join('\r\n')}\r\n`,
    );
  });

  test('what the flaw on a plate is stands first in its note, and any note stays a note', () => {
    const noted = (more: Partial<StationReading>): StationReading => ({
      ...reading('2', 0.05),
      plate: 'dirty',
      ...more,
    });
    const through = (more: Partial<StationReading>): StationReading | undefined => {
      const [body] = back(recordsToCsv(fromLog(log({ ...check(1, 700, null), readings: [noted(more)] })), 'A'));
      return body?.type === 'check' ? body.readings[0] : undefined;
    };
    const fill = { flaw_kind: 'fill-in', flaw_edge: 'leading', flaw_comes: 'same place' } as const;
    expect(recordsToCsv(fromLog(log({ ...check(1, 700, null), readings: [noted(fill)] })), 'A').split('\r\n')[1]).toBe(
      'A,1,2026-03-02T09:00:00.000Z,700,,reading,2,0.05,,dirty,,,,,,MK,"flaw: fill-in, leading edge, same place"',
    );
    expect(through(fill)).toEqual(noted(fill));
    expect(through({ ...fill, note: 'left half\nof the lid' })).toEqual(
      noted({ ...fill, note: 'left half\nof the lid' }),
    );
    for (const note of ['flaw: smudge', 'no flaw: speck', 'flaw:', 'flaws everywhere'])
      expect(through({ note })).toEqual(noted({ note }));
    expect(through({ plate: 'clean', note: 'flaw: speck' })).toEqual(noted({ plate: 'clean', note: 'flaw: speck' }));
  });

  test('a check keyed late stands where its sample was pulled', () => {
    const records = log(
      { type: 'pull', check: 1, web_m: 700, roll: null, counter: 'keyed', place: null },
      { type: 'stop', web_m: 720 },
      { type: 'correction', station: '2', axis: 'along', move_mm: 0.05, teeth: 0, divisions: 1, web_m: 720 },
      check(1, 700, '2026-03-02T09:00:00.000Z'),
    );
    expect(back(recordsToCsv(fromLog(records), 'A')).map(({ type }) => type)).toEqual(['check', 'stop', 'correction']);
  });

  test('positions count from OK to run, before it too', () => {
    const records = log(
      check(1, 4980, null),
      { type: 'ok', web_m: 5000, zero_m: 5000, passed_by: 'MK', check: 1, hold_to: 'aim' },
      check(2, 700, null),
    );
    expect(back(recordsToCsv(fromLog(records), 'A')).map((body) => 'web_m' in body && body.web_m)).toEqual([
      -20, 0, 700,
    ]);
  });

  test('a counter that was reset comes back to the same positions', () => {
    const records = log(
      check(1, 700.1, null),
      { type: 'counter', offset_m: 720.3, web_m: 720.3 },
      check(2, 900.7, null),
      { type: 'counter', offset_m: 1000.9, web_m: 1000.9 },
      check(3, 1100.2, null),
    );
    const text = recordsToCsv(fromLog(records), 'A');
    expect(text).toContain(',180.4,,reading');
    expect(back(text).map((body) => 'web_m' in body && body.web_m)).toEqual([700.1, 720.3, 900.7, 1000.9, 1100.2]);
  });

  test('what was taken back by number, or taken back and keyed again, is left out; taken back only, both are written', () => {
    const again = log(
      check(1, 700, '2026-03-02T09:00:00.000Z', 0.9),
      { type: 'stop', web_m: 710 },
      { type: 'withdraw', check: 1, entry: null, web_m: 710 },
      check(1, 700, '2026-03-02T09:00:00.000Z', 0.09),
      { type: 'withdraw', check: null, entry: 2, web_m: null },
    );
    expect(back(recordsToCsv(fromLog(again), 'A'))).toEqual([check(1, 700, '2026-03-02T09:00:00.000Z', 0.09)]);
    const gone = log(check(1, 700, null), { type: 'withdraw', check: 1, entry: null, web_m: 710 });
    expect(back(recordsToCsv(fromLog(gone), 'A')).map(({ type }) => type)).toEqual(['check', 'withdraw']);
  });

  test('a clock that was set back leaves times blank, the order stays', () => {
    const records = log(
      { type: 'stop', web_m: 1, at: '2026-03-02T10:00:00.000Z' },
      { type: 'start', web_m: 1, at: '2026-03-02T09:00:30.000Z' },
      { type: 'stop', web_m: 2, at: '2026-03-02T10:00:01.000Z' },
    );
    const text = recordsToCsv(fromLog(records), 'A');
    expect(text).toContain('A,,,1,,start');
    expect(back(text).map(({ type }) => type)).toEqual(['stop', 'start', 'stop']);
  });

  test('any run comes back the same', () => {
    const text = fc.string({
      unit: fc.constantFrom('a', 'ü', '=', '+', '-', '@', "'", '"', ',', ';', '🙂'),
      minLength: 1,
      maxLength: 8,
    });
    const mm = fc.double({ min: -50, max: 50, noNaN: true }).map((x) => (x === 0 ? 0 : x));
    const move = mm.filter((x) => x !== 0);
    const maybe = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: null });
    const station = fc.constantFrom('1', '2', '3', 'D');
    const readings = fc
      .uniqueArray(
        fc.record({
          station,
          along_mm: maybe(mm),
          across_mm: maybe(mm),
          look: maybe(fc.constantFrom('in' as const, 'off' as const)),
          plate: maybe(fc.constantFrom('clean' as const, 'building' as const, 'dirty' as const)),
          counted: maybe(fc.tuple(fc.nat(99), fc.integer({ min: 1, max: 99 }))),
          flaw: fc.record({
            kind: maybe(fc.constantFrom(...FLAW_KINDS)),
            edge: maybe(fc.constantFrom('leading' as const, 'trailing' as const)),
            comes: maybe(fc.constantFrom('same place' as const, 'moves' as const)),
          }),
          note: maybe(text),
        }),
        { selector: (r) => r.station, minLength: 1 },
      )
      .map((list) =>
        list
          .toSorted((a, b) => (a.station < b.station ? -1 : 1))
          .map(
            ({ counted, flaw, note, ...r }): StationReading => ({
              ...r,
              ...(r.plate === null || r.plate === 'clean' ? {} : flawFields(flaw)),
              edge: null,
              flaws: counted?.[0] ?? null,
              labels: counted?.[1] ?? null,
              ...(note === null ? {} : { note }),
            }),
          ),
      );
    const body = fc.oneof(
      fc.record({
        type: fc.constant('check' as const),
        source: fc.constantFrom('keyed' as const, 'sensor' as const),
        roll: maybe(text),
        readings,
        note: maybe(text),
      }),
      fc.record({
        type: fc.constant('correction' as const),
        station,
        axis: fc.constantFrom('along' as const, 'across' as const),
        move_mm: move,
      }),
      fc.record({ type: fc.constant('finished' as const), roll: text }),
      fc.record({ type: fc.constant('wash' as const), station: fc.constantFrom('1', '2', 'all') }),
      fc.record({
        type: fc.constant('speed' as const),
        m_per_min: fc.double({ min: 0, max: 500, noNaN: true }).map((x) => x + 0),
      }),
      fc.record({ type: fc.constantFrom('stop' as const, 'die' as const, 'seen' as const, 'end' as const) }),
      fc.record({ type: fc.constant('note' as const), text }),
      fc.record({
        type: fc.constant('ok' as const),
        passed_by: text,
        check: fc.nat(9),
        hold_to: fc.constantFrom('aim' as const, 'sample' as const),
      }),
      fc.record({
        type: fc.constant('tolerance' as const),
        station,
        along_mm: maybe(fc.double({ min: 0.01, max: 50, noNaN: true })),
        across_mm: fc.double({ min: 0.01, max: 50, noNaN: true }),
      }),
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(body, fc.double({ min: 0, max: 900, noNaN: true })), { maxLength: 12 }),
        (steps) => {
          let web_m = 0;
          let checks = 0;
          // A finished row in every file, so that roll rows are not both.
          const written = [
            {
              at: '2026-03-02T08:00:00.000Z',
              by: 'MK',
              body: { type: 'finished', web_m: 0, roll: '0' } satisfies RecordBody,
            } as ToWrite,
          ].concat(
            steps.map(([some, further], index): ToWrite => {
              web_m += further;
              const at = new Date(Date.UTC(2026, 2, 2, 9, index)).toISOString();
              if (some.type === 'check') {
                checks += 1;
                const { note, ...rest } = some;
                return {
                  at,
                  by: some.source === 'sensor' ? 'sensor' : 'MK',
                  body: {
                    ...rest,
                    check: checks,
                    web_m,
                    pulled_at: at,
                    place: null,
                    ...(note === null ? {} : { note }),
                  },
                };
              }
              if (some.type === 'correction')
                return { at, by: 'MK', body: { ...some, web_m, teeth: null, divisions: null } };
              if (some.type === 'ok') return { at, by: some.passed_by, body: { ...some, web_m, zero_m: null } };
              return { at, by: 'MK', body: { ...some, web_m } as RecordBody };
            }),
          );
          const csv = recordsToCsv(written, 'A');
          const [run] = runsOf(csv);
          expect(run?.records.map(({ body: read, at, by }) => ({ at, by, body: read }))).toEqual(written);
          // And what was read is written the same again.
          expect(recordsToCsv(run?.records ?? [], 'A')).toBe(csv);
        },
      ),
      { numRuns: 300 },
    );
  });
});
