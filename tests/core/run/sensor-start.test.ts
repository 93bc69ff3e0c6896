import { describe, expect, it } from 'vitest';
import { reading } from '../../support/reading.js';
import { seeded } from '../../support/seeded.js';
import { PRESS, tryRun } from '../../support/try-run.js';

/** Stations set by a loupe that scatters 0.04 mm, seen by a sensor whose checks scatter 0.004 mm. */
const SET = { '2': 0.02, '3': -0.03, '4': 0.01, D: 0.02 } as const;
const SENSOR_MM = 0.004;

/** Events of so many sensor checks; `more`: what a station has moved by at sensor check i, mm along. */
const eventsOf = (seed: number, checks: number, more: (station: string, i: number) => number) => {
  const random = seeded(seed);
  const run = tryRun({ press: { ...PRESS, sensor_m: 10 }, make_ready: true });
  run.check(1, 0, SET);
  run.put({ type: 'ok', web_m: 0, zero_m: 0, passed_by: 'JK', check: 1, hold_to: 'aim' });
  return Array.from({ length: checks }, (_, i) =>
    run.put({
      type: 'check',
      check: i + 2,
      web_m: 15 * (i + 1),
      roll: null,
      pulled_at: null,
      source: 'sensor',
      place: null,
      readings: Object.entries(SET).map(([id, off]) =>
        reading(id, {
          along_mm: off + more(id, i) + SENSOR_MM * random.normal(),
          across_mm: SENSOR_MM * random.normal(),
        }),
      ),
    }),
  ).flatMap((found, i) => found.flatMap((f) => (f.type === 'event' ? [{ ...f, i }] : [])));
};

// No source: the truth is known because it is simulated.
describe('a sensor that looks closer than the loupe by which the stations were set', () => {
  it.each([1, 2, 3])('where they stand from the first is no movement (seed %d)', (seed) => {
    expect(eventsOf(seed, 200, () => 0)).toEqual([]);
  });

  it.each([1, 2, 3])(
    'what moves later is found in some checks, much smaller than the loupe could see (seed %d)',
    (seed) => {
      const [first, ...rest] = eventsOf(seed, 130, (id, i) => (id === '3' && i >= 100 ? 0.02 : 0));
      expect(first).toMatchObject({ axis: 'along', cause: { kind: 'station', station: '3' }, severity: 'note' });
      expect(first?.i).toBeGreaterThanOrEqual(100);
      expect(first?.i).toBeLessThan(106);
      expect(rest).toEqual([]);
    },
  );

  it('what nobody would have set so is told', () => {
    const events = eventsOf(4, 12, (id) => (id === '4' ? 0.14 : 0));
    expect(events).toContainEqual(expect.objectContaining({ cause: { kind: 'station', station: '4' } }));
  });
});
