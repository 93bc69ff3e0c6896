import { describe, expect, it } from 'vitest';
import { causeLines } from '../../../src/core/drift/cause-lines.js';
import { type LevelFilter, startLevel } from '../../../src/core/drift/level-filter.js';
import { levels } from '../../../src/core/drift/levels.js';
import { nextLevel } from '../../../src/core/drift/next-level.js';
import type { Scatter } from '../../../src/core/drift/scatter.js';
import type { Seen } from '../../../src/core/drift/seen.js';
import { sharedShift, takenBack } from '../../../src/core/drift/shared-shift.js';
import { seeded } from '../../support/seeded.js';
import { config, SIGMA, scene, watchRun } from './watch-run.js';

const lines = causeLines(config);
const reference = lines.isReference.indexOf(true);
const own = lines.measured.map(() => 0.75 * SIGMA * SIGMA);
const scatter: Scatter = {
  own,
  shared: 0.25 * SIGMA * SIGMA,
  sigma: lines.measured.map(() => SIGMA),
  pooled: SIGMA,
  freedom: 1e6,
};
const held: LevelFilter = Array.from({ length: 20 }).reduce<LevelFilter>(
  (f) => nextLevel(f, SIGMA, 1, 1, 0, 0),
  startLevel(0, 0.01, SIGMA),
);
const filters = lines.measured.map((m) => (m ? held : null));
/** Readings of one label, mm: what each station moved by, and scatter. */
const label = (seed: number, moved: (k: number) => number, sd = SIGMA): readonly (number | null)[] => {
  const random = seeded(seed);
  const mark = 0.5 * sd * random.normal();
  return lines.measured.map((m, k) =>
    m && k !== reference ? moved(k) + mark + Math.sqrt(0.75) * sd * random.normal() : null,
  );
};
const shiftOf = (value: readonly (number | null)[], unrest = 1) => sharedShift(lines, scatter, filters, value, unrest);
const SEEDS = Array.from({ length: 200 }, (_, i) => i + 1);
const others = lines.measured.flatMap((m, k) => (m && k !== reference ? [k] : []));

describe('what moved all stations at one check', () => {
  it('a jump of the reference is found from all readings together, of its size, alike for every station', () => {
    for (const way of [1, -1]) {
      const found = SEEDS.map((seed) => shiftOf(label(seed, () => way * 6 * SIGMA)));
      expect(found.filter((f) => f !== null).length).toBeGreaterThanOrEqual(196);
      const off = found.flatMap((f) => (f === null ? [] : others.map((k) => (f.mm[k] ?? 0) - way * 6 * SIGMA)));
      const mean = off.reduce((a, b) => a + b, 0) / off.length;
      expect(Math.abs(mean)).toBeLessThan(0.3 * SIGMA);
      const alike = found.filter(
        (f) => f !== null && others.every((k) => Math.abs((f.mm[k] ?? 0) - (f.mm[others[0] ?? 0] ?? 0)) < 1e-12),
      );
      expect(alike.length).toBeGreaterThanOrEqual(180);
      for (const f of found) if (f !== null) expect(f.mm[reference]).toBeCloseTo(0, 12);
    }
  });

  it('one station that jumps by itself is no such jump, however far', () => {
    for (const far of [4, 8, 20])
      for (const k of others) {
        const found = SEEDS.slice(0, 50).map((seed) => shiftOf(label(seed, (i) => (i === k ? far * SIGMA : 0))));
        expect(found.filter((f) => f !== null).length).toBeLessThanOrEqual(1);
      }
  });

  it('the scatter of the reference, which is in every reading of a label, is no jump', () => {
    const found = SEEDS.map((seed) => shiftOf(label(seed, () => 0)));
    expect(found.filter((f) => f !== null).length).toBeLessThanOrEqual(2);
  });

  it('a station that does something of its own at the same check is set aside', () => {
    const odd = others[1] ?? 0;
    const found = SEEDS.map((seed) => shiftOf(label(seed, (k) => (k === odd ? -12 * SIGMA : 6 * SIGMA))));
    const sizes = found.flatMap((f) => (f === null ? [] : [f.mm[others[0] ?? 0] ?? 0])).toSorted((a, b) => a - b);
    expect(sizes.length).toBeGreaterThanOrEqual(180);
    expect(Math.abs((sizes[Math.floor(sizes.length / 2)] ?? 0) - 6 * SIGMA)).toBeLessThan(0.5 * SIGMA);
  });

  it('fewer than three readings say nothing of all', () => {
    const value = label(3, () => 8 * SIGMA).map((z, k) => (k === others[0] || k === others[1] ? z : null));
    expect(shiftOf(value)).toBeNull();
  });
});

describe('a second label of the sample', () => {
  const shift = lines.measured.map((m, k) => (m && k !== reference ? 6 * SIGMA : 0));
  const believed = filters.map((f) => (f === null ? null : { ...f, level: f.level.map((l) => l + 6 * SIGMA) }));

  it('that does not show what the first did of all stations takes it back', () => {
    for (const seed of SEEDS) {
      const back = takenBack(
        lines,
        scatter,
        believed,
        label(seed, () => 0),
        shift,
      );
      expect(back?.mm).toEqual(shift.map((mm) => -mm));
    }
  });

  it('that shows the same lets it stand, and so does one that shows it of the few stations it was read for', () => {
    const few = (value: readonly (number | null)[]) => value.map((z, k) => (others.slice(0, 3).includes(k) ? z : null));
    for (const seed of SEEDS) {
      const same = label(seed, () => 6 * SIGMA);
      expect(takenBack(lines, scatter, believed, same, shift)).toBeNull();
      expect(takenBack(lines, scatter, believed, few(same), shift)).toBeNull();
      expect(takenBack(lines, scatter, believed, few(label(seed, () => 0)), shift)).not.toBeNull();
    }
  });

  it('with nothing to take back, or nothing read, changes nothing', () => {
    expect(
      takenBack(
        lines,
        scatter,
        filters,
        label(1, () => 0),
        [],
      ),
    ).toBeNull();
    expect(
      takenBack(
        lines,
        scatter,
        believed,
        lines.measured.map(() => null),
        shift,
      ),
    ).toBeNull();
  });

  it('through the watch: the levels jump with the first label and come back with the second', () => {
    const before = scene({ checks: 30 });
    const last = before[before.length - 1];
    if (last === undefined) throw new Error('no checks');
    const next = (web_m: number, moved: number, seed: number, same_sample: boolean): Seen => ({
      ...last,
      check: web_m,
      web_m,
      same_sample,
      along: { ...last.along, read: label(seed, () => moved) },
    });
    const at = last.web_m + 650;
    const misread = next(at, 8 * SIGMA, 5, false);
    const middle = (checks: readonly Seen[]): number => {
      const of = levels(config, watchRun(config, checks).state, 'along');
      const all = others.map((k) => of[k]?.mean_mm ?? Number.NaN).toSorted((a, b) => a - b);
      return all[Math.floor(all.length / 2)] ?? Number.NaN;
    };
    expect(middle([...before, misread])).toBeGreaterThan(5 * SIGMA);
    expect(Math.abs(middle([...before, misread, next(at + 5, 0, 6, true)]))).toBeLessThan(SIGMA);
    expect(middle([...before, misread, next(at + 5, 8 * SIGMA, 6, true)])).toBeGreaterThan(6 * SIGMA);
  });
});
