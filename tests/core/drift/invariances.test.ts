import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Seen, WatchConfig } from '../../../src/core/drift/seen.js';
import { initial, step } from '../../../src/core/drift/watch.js';
import { config, scene, watchRun } from './watch-run.js';

/** A run with a movement of some cause and size in it, some readings missing and a correction. */
const runs = fc
  .record({
    seed: fc.integer({ min: 1, max: 10_000 }),
    mover: fc.integer({ min: 0, max: 7 }),
    size: fc.double({ min: 2, max: 5, noNaN: true }),
    gap: fc.integer({ min: 3, max: 9 }),
    turned: fc.integer({ min: 1, max: 6 }),
  })
  .map((r) =>
    scene({
      seed: r.seed,
      checks: 26,
      moves: (k, t) => (t <= 12 ? 0 : r.mover === 7 ? (r.size * k) / 6 : k === r.mover ? r.size : 0),
      turns: (k, t) => (k === r.turned && t > 20 ? -3 : 0),
      reads: (k, t) => (k + t) % r.gap !== 0,
    }),
  );

type Verdict = {
  readonly check: number;
  readonly cause: unknown;
  readonly since: unknown;
  readonly settled: boolean;
  readonly moved: number;
};

const verdicts = (c: WatchConfig, checks: readonly Seen[]): readonly Verdict[] =>
  watchRun(c, checks).told.map(({ check, movement: m }) => ({
    check,
    cause: m.cause,
    since: m.since.check,
    settled: m.settled,
    moved: m.moved_mm,
  }));

const same = (a: readonly Verdict[], b: readonly Verdict[], scale: number): void => {
  expect(b.map(({ moved: _, ...rest }) => rest)).toEqual(a.map(({ moved: _, ...rest }) => rest));
  a.forEach((v, i) => {
    expect(b[i]?.moved).toBeCloseTo(v.moved * scale, 6);
  });
};

const mapAxes = (s: Seen, f: (mm: number) => number): Seen => {
  const axis = (a: Seen['along']): Seen['along'] => ({
    read: a.read.map((r) => (r === null ? null : f(r))),
    turned: a.turned.map(f),
  });
  return { ...s, along: axis(s.along), across: axis(s.across) };
};

const few = { numRuns: 25 };

describe('the verdict does not depend on', () => {
  it('which way is called plus', () => {
    fc.assert(
      fc.property(runs, (checks) => {
        same(
          verdicts(config, checks),
          verdicts(
            config,
            checks.map((s) => mapAxes(s, (mm) => -mm)),
          ),
          -1,
        );
      }),
      few,
    );
  });

  it('the unit of register', () => {
    const inTwelfths: WatchConfig = { ...config, spread_mm: { along: 0.04 * 12, across: 0.04 * 12 } };
    fc.assert(
      fc.property(runs, (checks) => {
        same(
          verdicts(config, checks),
          verdicts(
            inTwelfths,
            checks.map((s) => mapAxes(s, (mm) => 12 * mm)),
          ),
          12,
        );
      }),
      few,
    );
  });

  it('where the counter started', () => {
    fc.assert(
      fc.property(runs, fc.integer({ min: -50_000, max: 500_000 }), (checks, shift) => {
        const moved = checks.map((s) => ({ ...s, web_m: s.web_m + shift }));
        same(verdicts(config, checks), verdicts(config, moved), 1);
      }),
      few,
    );
  });

  it('what the stations are called', () => {
    fc.assert(
      fc.property(runs, (checks) => {
        const renamed: WatchConfig = {
          ...config,
          stations: config.stations.map((s) => ({ ...s, id: `unit ${s.id}` })),
        };
        const strip = (v: readonly Verdict[]): readonly Verdict[] =>
          JSON.parse(JSON.stringify(v).replaceAll('unit ', '')) as readonly Verdict[];
        same(verdicts(config, checks), strip(verdicts(renamed, checks)), 1);
      }),
      few,
    );
  });

  it('the order in which the stations stand in the configuration', () => {
    const order = [4, 0, 6, 2, 1, 5, 3];
    const at = <T>(xs: readonly T[]): T[] => order.flatMap((i) => xs.slice(i, i + 1));
    const shuffled: WatchConfig = { ...config, stations: at(config.stations) };
    fc.assert(
      fc.property(runs, (checks) => {
        const others = checks.map(
          (s): Seen => ({
            ...s,
            along: { read: at(s.along.read), turned: at(s.along.turned) },
            across: { read: at(s.across.read), turned: at(s.across.turned) },
          }),
        );
        const sorted = (v: readonly Verdict[]): readonly Verdict[] =>
          JSON.parse(
            JSON.stringify(v).replaceAll(/\["(\d)","(\d)"\]/g, (_, a: string, b: string) =>
              JSON.stringify([a, b].sort()),
            ),
          ) as readonly Verdict[];
        same(sorted(verdicts(config, checks)), sorted(verdicts(shuffled, others)), 1);
      }),
      few,
    );
  });

  it('whether the state was written down and read back between two checks', () => {
    fc.assert(
      fc.property(runs, (checks) => {
        let straight = initial(config);
        let written = initial(config);
        for (const seen of checks) {
          const a = step(config, straight, seen);
          const b = step(config, JSON.parse(JSON.stringify(written)) as typeof written, seen);
          expect(b.found).toEqual(a.found);
          straight = a.state;
          written = b.state;
        }
      }),
      few,
    );
  });

  it('anything but what it is given: the same twice, and the state handed in is left as it was', () => {
    fc.assert(
      fc.property(runs, (checks) => {
        let state = initial(config);
        for (const seen of checks.slice(0, 20)) state = step(config, state, seen).state;
        const before = JSON.stringify(state);
        const next = checks[20];
        if (next === undefined) return;
        const a = JSON.stringify(step(config, state, next));
        expect(JSON.stringify(step(config, state, next))).toBe(a);
        expect(JSON.stringify(state)).toBe(before);
      }),
      few,
    );
  });
});

describe('the state', () => {
  it('does not grow with the run', () => {
    const checks = scene({ checks: 400 });
    let state = initial(config);
    const sizes: number[] = [];
    checks.forEach((seen, i) => {
      state = step(config, state, seen).state;
      if (i % 100 === 99) sizes.push(JSON.stringify(state).length);
    });
    expect(Math.max(...sizes)).toBeLessThan(1.3 * (sizes[0] ?? 0));
  });
});
