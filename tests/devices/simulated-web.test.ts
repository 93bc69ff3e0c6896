import { describe, expect, it } from 'vitest';
import { printedAt, type SimulatedAct, sensorReads, strengthAt } from '../../src/devices/simulated-web.js';
import { exampleWeb } from './support/example-web.js';
import { seeded } from './support/seeded.js';

const along = (
  web: ReturnType<typeof exampleWeb>,
  web_m: number,
  acts: readonly SimulatedAct[] = [],
  mark = 0,
): Record<string, number | null> =>
  Object.fromEntries(sensorReads(web, acts, web_m, mark, seeded(1)).map((r) => [r.station, r.along_mm]));

describe('the simulated web', () => {
  it('tension up a tenth on a web of 0.003 in and 1e6 psi (strain +1e-4): 24 in further on prints 0.061 mm late, 96 in 0.24 mm', () => {
    // Worked from x = -L * change of strain for a web held by in-feed and out-feed only (Shelton 1968; Brandenburg 1976, from memory).
    const web = exampleWeb({ causes: [{ kind: 'strain', at_m: 0, strain: 1e-4, over_m: 0 }] });
    const at = (id: string, m: number) => printedAt(web, [], { id, at_m: m, run_out_mm: 0 }, 'along', 100);
    expect(at('x', 1.5 + 0.6096) - at('r', 1.5)).toBeCloseTo(-0.061, 3);
    expect(at('x', 1.5 + 2.4384) - at('r', 1.5)).toBeCloseTo(-0.244, 3);
    const read = along(web, 100);
    expect(read['2']).toBeCloseTo(-0.12, 9);
    expect(read.D).toBeCloseTo(-0.69, 9);
  });
  it('when the reference creeps, all others read the other way by the same', () => {
    const read = along(
      exampleWeb({ causes: [{ kind: 'creep', station: '1', axis: 'along', from_m: 0, to_m: 1e9, mm_per_km: 0.05 }] }),
      2009.5,
    );
    for (const value of Object.values(read)) expect(value).toBeCloseTo(-0.1, 9);
  });
  it('a step is read when the piece of web printed after it comes by, and a knob moves the print back', () => {
    const web = exampleWeb({ causes: [{ kind: 'step', station: '3', axis: 'along', at_m: 1000, mm: 0.2 }] });
    expect(along(web, 1007)['3']).toBe(0);
    expect(along(web, 1007.2)['3']).toBeCloseTo(0.2, 9);
    expect(along(web, 1200, [{ kind: 'move', station: '3', axis: 'along', mm: -0.2, web_m: 1100 }])['3']).toBeCloseTo(
      0,
      9,
    );
  });
  it('run-out comes back once a repeat and averages out over it', () => {
    const web = exampleWeb({
      marks_per_repeat: 4,
      stations: [
        { id: '1', at_m: 1, run_out_mm: 0 },
        { id: '2', at_m: 2, run_out_mm: 0.03 },
      ],
    });
    const four = [0, 1, 2, 3].map((mark) => along(web, 100, [], mark)['2'] ?? 0);
    expect(four.reduce((a, b) => a + b, 0)).toBeCloseTo(0, 12);
    expect(Math.sqrt((four[0] ?? 0) ** 2 + (four[1] ?? 0) ** 2)).toBeCloseTo(0.03, 12);
  });
  it('noise has the spread asked for, the sensor rounds, and some marks are missed', () => {
    const web = exampleWeb({ noise_mm: { along: 0.02, across: 0.01 }, resolution_mm: 0.005, share_bad: 0.1 });
    const random = seeded(5);
    const all = Array.from({ length: 4000 }, () => sensorReads(web, [], 100, 0, random)[0]?.along_mm ?? null);
    const good = all.filter((v) => v !== null);
    expect(good.length / all.length).toBeCloseTo(0.9, 1);
    const sd = Math.sqrt(good.reduce((s, v) => s + v * v, 0) / good.length);
    // Rounding adds q²/12 to the variance (Sheppard).
    expect(sd).toBeCloseTo(Math.sqrt(0.02 ** 2 + 0.005 ** 2 / 12), 3);
    for (const v of good) expect(Math.abs(v / 0.005 - Math.round(v / 0.005))).toBeLessThan(1e-6);
  });
  it('each roll pulls its own way: a step at the splice in proportion to the distance, settled, and a sawtooth within the roll', () => {
    const web = exampleWeb({ causes: [{ kind: 'rolls', length_m: 1000, strains: [0, 1e-4], over_m: 60, growth: 0 }] });
    expect(along(web, 999)['4']).toBeCloseTo(0, 9);
    expect(along(web, 1500)['4']).toBeCloseTo(-0.36, 6);
    expect(along(web, 1500)['2']).toBeCloseTo(-0.12, 6);
    expect(along(web, 2500)['4']).toBeCloseTo(0, 6);
    const brake = exampleWeb({ causes: [{ kind: 'rolls', length_m: 1000, strains: [0], over_m: 0, growth: 5e-5 }] });
    expect(along(brake, 905.9)['4'] ?? 0).toBeCloseTo(-3600 * 5e-5 * 0.9, 2);
    expect(Math.abs(along(brake, 1030)['4'] ?? 1)).toBeLessThan(0.02);
  });
  it('dirt weakens the mark, a wash brings it back', () => {
    const web = exampleWeb({ causes: [{ kind: 'dirt', station: '4', from_m: 1000, per_km: 0.2 }] });
    expect(strengthAt(web, [], '4', 1000)).toBeCloseTo(0.9, 9);
    expect(strengthAt(web, [], '4', 3000)).toBeCloseTo(0.5, 9);
    expect(strengthAt(web, [{ kind: 'wash', station: '4', web_m: 3000 }], '4', 3500)).toBeCloseTo(0.8, 9);
  });
});
