import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Press } from '../../src/core/press.js';
import {
  estimateWeb,
  initialWebClock,
  keyCounter,
  printedAt,
  samplePlace,
  setSpeed,
  startWeb,
  stopWeb,
  tellsFrom,
} from '../../src/core/web.js';

const press: Press = {
  name: 'Line B',
  gear: '1/8 in CP',
  tooth_mm: 3.175,
  web_runs: 'left-to-right',
  roll_change: 'running',
  stations: [],
  sample_m: 12,
  samples: { waste: 9.6, before_die: 8 },
  sensor_m: 11,
  helix_deg: 0,
  not_measured: [],
};

describe('sample lag', () => {
  it('W − (place − at), as the press file says', () => {
    expect(printedAt(21450, 12, 3.9)).toBeCloseTo(21441.9, 9);
  });
  it('a sample tells from the move plus the lag on: the two are inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e5, max: 1e6, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (w, place, at) => {
          expect(printedAt(tellsFrom(w, place, at), place, at)).toBeCloseTo(w, 6);
        },
      ),
    );
  });
  it('finds where a sample stood, and does not guess a place it does not know', () => {
    expect(samplePlace(press, 'keyed', null)).toBe(12);
    expect(samplePlace(press, 'keyed', 'waste')).toBe(9.6);
    expect(samplePlace(press, 'sensor', null)).toBe(11);
    expect(samplePlace({ ...press, sensor_m: null }, 'sensor', null)).toBe(12);
    expect(samplePlace(press, 'keyed', 'attic')).toBeNull();
  });
});

describe('the web position between two readings of the counter', () => {
  const keyed = keyCounter(startWeb(initialWebClock, null, 120, 0), 21000, 0);
  it('is not known before any', () => expect(estimateWeb(initialWebClock, 5000)).toBeNull());
  it('carries on at speed and says how old it is', () => {
    expect(estimateWeb(keyed, 90_000)).toEqual({ web_m: 21180, counter: 'estimated', age_s: 90, speed_known: true });
  });
  it('stands while stopped', () => {
    const stopped = stopWeb(keyed, null, 60_000);
    expect(estimateWeb(stopped, 600_000)?.web_m).toBe(21120);
    expect(estimateWeb(startWeb(stopped, null, null, 600_000), 630_000)?.web_m).toBe(21180);
  });
  it('runs each stretch at its own speed', () => {
    expect(estimateWeb(setSpeed(keyed, 60, 60_000), 120_000)?.web_m).toBe(21180);
  });
  it('adds nothing when the clock jumps back', () => expect(estimateWeb(keyed, -3_600_000)?.web_m).toBe(21000));
  it('says when it runs at no known speed', () => {
    const blind = keyCounter(startWeb(initialWebClock, null, null, 0), 500, 0);
    expect(estimateWeb(blind, 60_000)).toEqual({ web_m: 500, counter: 'estimated', age_s: 60, speed_known: false });
  });
});
