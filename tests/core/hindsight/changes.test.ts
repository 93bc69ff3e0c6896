import { describe, expect, test } from 'vitest';
import { changesIn } from '../../../src/core/hindsight/changes.js';
import { inverseOf } from '../../../src/core/hindsight/inverse.js';
import type { Readings } from '../../../src/core/hindsight/spread.js';
import { seeded } from '../../support/seeded.js';

const SIGMA = 0.03;
const PATHS = [1.2, 2.4, 3.6, 4.8, 6.9];

/** Five stations for so many checks, own and shared scatter, with what is done to them. */
const readings = (seed: number, checks: number, does: (station: number, check: number) => number): Readings => {
  const random = seeded(seed);
  return {
    stations: PATHS.map((path_m, k) => ({ id: String(k + 2), path_m })),
    checks: Array.from({ length: checks }, (_, i) => {
      const shared = SIGMA * Math.sqrt(0.2) * random.normal();
      return {
        web_m: (i + 1) * 2_000,
        mm: PATHS.map((_, k) => does(k, i) + shared + SIGMA * Math.sqrt(0.8) * random.normal()),
      };
    }),
    sigma_mm: SIGMA,
    share_of_reference: 0.2,
    from_ok: true,
  };
};

/** The one change that is surest, of many seeds: how often it is this mover. */
const found = (does: (station: number, check: number) => number, kind: string, station?: number): number => {
  let right = 0;
  for (let seed = 1; seed <= 10; seed += 1) {
    const [best] = changesIn(readings(seed, 14, does), []).toSorted((a, b) => b.share - a.share);
    if (
      best?.mover.kind === kind &&
      (station === undefined || ('station' in best.mover && best.mover.station === station))
    )
      right += 1;
  }
  return right;
};

describe('what moved, told from all readings of a stretch', () => {
  test('one station 0.20 mm ahead from the seventh check on (the example)', () => {
    const [change, ...more] = changesIn(
      readings(4, 12, (k, i) => (k === 2 && i >= 6 ? 0.2 : 0)),
      [],
    );
    expect(more).toEqual([]);
    expect(change).toMatchObject({ mover: { kind: 'station', station: 2 }, from: 6, until: 6 });
    expect(Math.abs((change?.mm ?? 0) - 0.2)).toBeLessThan(3 * (change?.sd_mm ?? 0));
    expect(change?.share).toBeGreaterThan(0.99);
  });

  test('station, reference and web are told apart, and a reading that stood alone is no movement', () => {
    expect(found((k, i) => (k === 1 && i >= 7 ? -0.15 : 0), 'station', 1)).toBeGreaterThanOrEqual(9);
    expect(found((_, i) => (i >= 7 ? 0.15 : 0), 'reference')).toBeGreaterThanOrEqual(9);
    expect(found((k, i) => (i >= 7 ? 0.03 * (PATHS[k] ?? 0) : 0), 'web')).toBeGreaterThanOrEqual(9);
    expect(found((k, i) => (k === 3 && i === 7 ? 0.25 : 0), 'reading', 3)).toBeGreaterThanOrEqual(9);
  });

  test('where nothing moved, next to nothing is found (at most one in ten runs of 14 checks)', () => {
    let told = 0;
    for (let seed = 1; seed <= 20; seed += 1)
      told += changesIn(
        readings(seed, 14, () => 0),
        [],
      ).length;
    expect(told).toBeLessThanOrEqual(2);
  });

  test('a knob that gave a little less than asked is no movement', () => {
    // Asked −0.20, got −0.17: 0.03 mm stay in the readings less what was turned.
    const left = readings(3, 14, (k, i) => (k === 2 && i >= 7 ? 0.03 : 0));
    expect(changesIn(left, [{ station: 2, from: 7, move_mm: -0.2 }])).toEqual([]);
  });

  test('fewer than three checks tell nothing', () =>
    expect(
      changesIn(
        readings(1, 2, () => 0.3),
        [],
      ),
    ).toEqual([]));

  test('an inverse times its matrix is the unit matrix', () => {
    const m = Float64Array.from([4, 1, 0.5, 1, 3, 0.2, 0.5, 0.2, 2]);
    const inverse = inverseOf(m);
    for (let i = 0; i < 3; i += 1)
      for (let j = 0; j < 3; j += 1) {
        let sum = 0;
        for (let k = 0; k < 3; k += 1) sum += (m[i * 3 + k] ?? 0) * (inverse[k * 3 + j] ?? 0);
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 12);
      }
  });
});
