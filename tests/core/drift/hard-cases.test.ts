import { describe, expect, it } from 'vitest';
import { forecast, reach } from '../../../src/core/drift/forecast.js';
import { levels } from '../../../src/core/drift/levels.js';
import { scatter } from '../../../src/core/drift/scatter-now.js';
import { configOf, SEVEN } from '../../support/press-sim.js';
import { config, plain, SIGMA, scene, watchRun } from './watch-run.js';

/** Numbers by which the watch says nothing in 60 checks when nothing moves: one notice in 200 checks is false, and these tests count notices. */
const UNTROUBLED = 5;

const levelNow = (w: ReturnType<typeof watchRun>, k: number): number =>
  (levels(config, w.state, 'along')[k]?.mean_mm ?? Number.NaN) / SIGMA;

describe('readings that are no movement', () => {
  const coarse = { ...config, resolution_mm: 0.05 };
  const zeros = (at: number, mm: number) => (t: number) => plain(t, [null, 0, 0, t === at ? mm : 0, 0, 0, 0]);

  it('ten checks of 0.00 and then one 0.05 with a 0.05 loupe: nothing is said', () => {
    const checks = Array.from({ length: 20 }, (_, i) => zeros(11, 0.05)(i + 1));
    expect(watchRun(coarse, checks).told).toEqual([]);
  });

  it('a hundred checks of 0.00 and then one 0.05: nothing is said', () => {
    const checks = Array.from({ length: 110 }, (_, i) => zeros(101, 0.05)(i + 1));
    expect(watchRun(coarse, checks).told).toEqual([]);
  });

  it('readings settling after a start raise nothing and teach the scatter nothing', () => {
    const settling = (t: number) => t > 30 && t < 36;
    const w = watchRun(
      config,
      scene({
        checks: 50,
        moves: (k, t) => (settling(t) ? 8 * Math.exp((31 - t) / 2) * (k / 6) : 0),
        marks: (t) => ({ settling: settling(t), roll_change: t === 31 }),
      }),
    );
    expect(w.told.filter((m) => m.check <= 36)).toEqual([]);
    expect(scatter(config, w.state).along.sigma_mm / SIGMA).toBeLessThan(1.15);
  });
});

describe('one wild reading', () => {
  const wild = scene({ checks: 60, seed: UNTROUBLED, moves: (k, t) => (k === 3 && t === 31 ? 12 : 0) });
  const good = scene({ checks: 60, seed: UNTROUBLED });

  it('would be the only thing there is to say', () => {
    expect(watchRun(config, good).told).toEqual([]);
  });

  it('is said at once, at its station, and is over at the next check', () => {
    const { told } = watchRun(config, wild);
    expect(told.map((m) => [m.check, m.movement.cause, m.movement.settled])).toEqual([
      [31, { kind: 'station', station: '4' }, false],
      [32, { kind: 'station', station: '4' }, true],
    ]);
    expect(told[0]?.movement.confidence).toBeLessThan(0.7);
  });

  it('harms neither scatter nor forecast', () => {
    const a = watchRun(config, wild);
    const b = watchRun(config, good);
    const at = 61 * SEVEN.every_m;
    expect(scatter(config, a.state).along.sigma_mm / scatter(config, b.state).along.sigma_mm).toBeCloseTo(1, 1);
    const [with_, without] = [a, b].map((w) => forecast(config, w.state, 'along', '4', at, 0.15));
    expect(Math.abs((with_?.mean_mm ?? 9) - (without?.mean_mm ?? 0))).toBeLessThan(0.2 * SIGMA);
    expect(with_?.p_out).toBeLessThan(0.02);
  });

  it('of the reference mark shows as the reference and is over at the next check', () => {
    const { told } = watchRun(
      config,
      scene({ checks: 40, seed: UNTROUBLED, moves: (k, t) => (k === 0 && t === 31 ? 8 : 0) }),
    );
    expect(told.map((m) => [m.check, m.movement.cause.kind, m.movement.settled])).toEqual([
      [31, 'reference', false],
      [32, 'reference', true],
    ]);
  });
});

describe('what is read', () => {
  it('two stations of seven are enough to see one of them move, and only they have a level', () => {
    const w = watchRun(
      config,
      scene({ checks: 45, reads: (k) => k === 2 || k === 5, moves: (k, t) => (k === 5 && t > 30 ? 4 : 0) }),
    );
    const first = w.told.find((m) => m.check > 30);
    expect(first?.movement.cause).toEqual({ kind: 'station', station: '6' });
    expect(levels(config, w.state, 'along').map((l) => l !== null)).toEqual([
      false,
      false,
      true,
      false,
      false,
      true,
      false,
    ]);
  });

  it('a station never read has no level, no forecast and no limit to reach', () => {
    const w = watchRun(config, scene({ checks: 40, reads: (k) => k !== 4 }));
    expect(levels(config, w.state, 'along')[4]).toBeNull();
    expect(forecast(config, w.state, 'along', '5', 41 * 650, 0.15)).toBeNull();
    expect(reach(config, w.state, 'along', '5', 0.15, 10_000)).toBeNull();
  });

  it('a movement is found through checks that leave a third of the stations out', () => {
    const w = watchRun(
      config,
      scene({ checks: 50, reads: (k, t) => (k + t) % 3 !== 0, moves: (k, t) => (k === 0 && t > 30 ? 2.5 : 0) }),
    );
    expect(w.told.find((m) => m.check > 30)?.movement.cause.kind).toBe('reference');
  });

  it('with the reference in the middle the web moves the stations before it the other way', () => {
    const press = { ...SEVEN, reference: 3 };
    const middle = configOf(press);
    const w = watchRun(
      middle,
      scene({ press, checks: 45, moves: (k, t) => (t > 30 ? ((SEVEN.at_m[k] ?? 0) - 5.1) * 0.8 : 0) }),
    );
    const first = w.told.find((m) => m.check > 30)?.movement;
    expect(first?.cause).toEqual({ kind: 'web' });
    expect(levels(middle, w.state, 'along')[0]?.mean_mm).toBeLessThan(-1.5 * SIGMA);
    expect(levels(middle, w.state, 'along')[6]?.mean_mm).toBeGreaterThan(2 * SIGMA);
  });
});

describe('more than one', () => {
  it('two stations moving at once are several, both named', () => {
    const w = watchRun(config, scene({ checks: 40, moves: (k, t) => (t > 30 && (k === 2 || k === 4) ? 3 : 0) }));
    expect(w.told[0]?.movement.cause).toEqual({ kind: 'several', stations: ['3', '5'] });
  });

  it('a second station that moves later is a movement of its own', () => {
    const w = watchRun(
      config,
      scene({ checks: 60, moves: (k, t) => ((k === 2 && t > 30) || (k === 4 && t > 40) ? 3 : 0) }),
    );
    expect(w.told.map((m) => m.movement.cause)).toEqual([
      { kind: 'station', station: '3' },
      { kind: 'station', station: '5' },
    ]);
    expect(new Set(w.told.map((m) => m.movement.key)).size).toBe(2);
  });

  it('one movement is said once, however long it stays', () => {
    const w = watchRun(config, scene({ checks: 110, moves: (k, t) => (k === 3 && t > 30 ? 3 : 0) }));
    expect(w.told).toHaveLength(1);
    expect(w.last[0]?.movements).toHaveLength(1);
  });

  it('a jumped tooth is one station, at its full size, at once', () => {
    const w = watchRun(config, scene({ checks: 33, moves: (k, t) => (k === 3 && t > 30 ? 79.375 : 0) }));
    expect(w.told).toHaveLength(1);
    expect(w.told[0]?.check).toBe(31);
    expect(levelNow(w, 3)).toBeGreaterThan(77);
  });

  it('a step at a roll change is said to have come with it', () => {
    const w = watchRun(
      config,
      scene({
        checks: 40,
        moves: (k, t) => (t > 30 ? (3 * ((SEVEN.at_m[k] ?? 0) - 1.5)) / 8 : 0),
        marks: (t) => ({ roll_change: t === 31 }),
      }),
    );
    expect(w.told[0]?.movement).toMatchObject({
      cause: { kind: 'web' },
      since: { check: 31 },
      pattern: 'at roll change',
    });
  });
});

describe('corrections', () => {
  const step4 = (k: number, t: number): number => (k === 3 && t > 30 ? 4 : 0);

  it('that takes: what was got is near what was asked, nothing new is said, the movement settles', () => {
    const w = watchRun(
      config,
      scene({
        checks: 60,
        moves: (k, t) => step4(k, t) - (k === 3 && t > 35 ? -0.2 : 0),
        turns: (k, t) => (k === 3 && t > 35 ? -4 : 0),
      }),
    );
    expect(w.corrections).toHaveLength(1);
    expect(w.corrections[0]).toMatchObject({ check: 36, station: '4' });
    expect(Math.abs((w.corrections[0]?.got_mm ?? 0) / SIGMA + 4)).toBeLessThan(2);
    expect(w.told.map((m) => m.movement.settled)).toEqual([false, true]);
    expect(w.last[0]?.movements).toEqual([]);
  });

  it('that does not take: got is about 0 and the movement stays', () => {
    const w = watchRun(
      config,
      scene({
        checks: 45,
        moves: (k, t) => step4(k, t) + (k === 3 && t > 35 ? 4 : 0),
        turns: (k, t) => (k === 3 && t > 35 ? -4 : 0),
      }),
    );
    expect(Math.abs(w.corrections[0]?.got_mm ?? 9) / SIGMA).toBeLessThan(2);
    expect(w.told).toHaveLength(1);
    expect(levelNow(w, 3)).toBeGreaterThan(3);
  });

  it('the wrong way: the same movement goes on, its own size unchanged, the level twice off', () => {
    const w = watchRun(config, scene({ checks: 45, moves: step4, turns: (k, t) => (k === 3 && t > 35 ? 4 : 0) }));
    expect(w.told).toHaveLength(1);
    expect(levelNow(w, 3)).toBeGreaterThan(7);
    expect((w.last[0]?.movements[0]?.moved_mm ?? 0) / SIGMA).toBeCloseTo(4, 0);
  });

  it('on the wrong station: the first movement stays and the station turned in error is told too', () => {
    const w = watchRun(config, scene({ checks: 45, moves: step4, turns: (k, t) => (k === 4 && t > 35 ? -4 : 0) }));
    expect(w.told.map((m) => m.movement.cause)).toEqual([
      { kind: 'station', station: '4' },
      { kind: 'station', station: '5' },
    ]);
    expect(w.told[1]).toMatchObject({ check: 36, movement: { since: { check: 36 } } });
  });

  it('of the reference, for the reference: read on all others, settled', () => {
    const w = watchRun(
      config,
      scene({
        checks: 45,
        seed: UNTROUBLED,
        moves: (k, t) => (k === 0 && t > 30 ? 3 : 0),
        turns: (k, t) => (k > 0 && t > 35 ? 3 : 0),
      }),
    );
    expect(w.corrections[0]?.station).toBe('1');
    expect(Math.abs((w.corrections[0]?.got_mm ?? 0) / SIGMA + 3)).toBeLessThan(1);
    expect(w.told.map((m) => [m.movement.cause.kind, m.movement.settled])).toEqual([
      ['reference', false],
      ['reference', true],
    ]);
  });
});

describe('a correction of a station that the next sample does not show', () => {
  it('is told when the station is read again', () => {
    const w = watchRun(
      config,
      scene({
        checks: 45,
        moves: (k, t) => (k === 3 && t > 30 ? 4 : 0),
        turns: (k, t) => (k === 3 && t > 35 ? -4 : 0),
        reads: (k, t) => !(k === 3 && (t === 36 || t === 37)),
      }),
    );
    expect(w.corrections.map((c) => [c.check, c.station])).toEqual([[38, '4']]);
    expect(Math.abs((w.corrections[0]?.got_mm ?? 0) / SIGMA + 4)).toBeLessThan(2.5);
  });
});
