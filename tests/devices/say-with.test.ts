import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SensorReading } from '../../src/core/sensor-reading.js';
import { sayWith } from '../../src/devices/say-with.js';
import { understandBytes } from '../../src/devices/try-examples.js';
import { profileFile } from './support/profile-file.js';

const names = readdirSync(new URL('../../devices/', import.meta.url)).filter((name) => name.endsWith('.json'));

describe.each(names)('%s said and understood', (name) => {
  const profile = profileFile(name);
  const say = sayWith(profile);
  const fixed = profile.readings.flatMap((r) => (typeof r.station === 'string' ? [r.station] : []));
  const stations = fixed.length > 0 ? fixed : ['2', '3', 'D'];
  const mm = fc.integer({ min: -1999, max: 1999 }).map((n) => n / 1000);

  it('gives back any readings, as near as the sensor writes them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(mm, mm, fc.integer({ min: 20, max: 100 })), {
          minLength: stations.length,
          maxLength: stations.length,
        }),
        fc.integer({ min: 0, max: 100_000 }),
        (rows, dm) => {
          const readings: SensorReading[] = stations.map((station, i) => ({
            station,
            along_mm: rows[i]?.[0] ?? 0,
            across_mm: rows[i]?.[1] ?? 0,
            strength: (rows[i]?.[2] ?? 0) / 100,
            width_mm: null,
          }));
          const got = say(readings, dm / 10).flatMap((message) =>
            understandBytes(profile, Buffer.from(message, 'latin1')),
          );
          const all = got.flatMap((u) => (u.kind === 'readings' ? u.readings : []));
          expect(all.map((r) => r.station)).toEqual(stations);
          for (const [i, r] of all.entries()) {
            expect(Math.abs((r.along_mm ?? 99) - (readings[i]?.along_mm ?? 0))).toBeLessThan(0.00051);
            expect(Math.abs((r.across_mm ?? 99) - (readings[i]?.across_mm ?? 0))).toBeLessThan(0.00051);
            expect(Math.abs((r.strength ?? 99) - (readings[i]?.strength ?? 0))).toBeLessThan(0.0051);
          }
          if (profile.counter !== undefined)
            for (const u of got) expect(u).toMatchObject({ counter_m: expect.closeTo(dm / 10, 6) });
        },
      ),
      { numRuns: 200 },
    );
  });

  it('a mark not found comes out as a bad read, not as 0', () => {
    const readings = stations.map((station) => ({
      station,
      along_mm: null,
      across_mm: null,
      strength: 0,
      width_mm: null,
    }));
    const got = say(readings, 1).flatMap((message) => understandBytes(profile, Buffer.from(message, 'latin1')));
    expect(
      got.flatMap((u) =>
        u.kind === 'readings' ? u.readings.map((r) => [r.station, r.along_mm, r.across_mm]) : [[u.kind, null, null]],
      ),
    ).toEqual(stations.map((s) => [s, null, null]));
  });
});
