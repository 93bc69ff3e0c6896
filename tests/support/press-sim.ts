import type { PerAxis } from '../../src/core/axis.js';
import type { Seen, WatchConfig } from '../../src/core/drift/seen.js';
import type { Seeded } from './seeded.js';

/** A simulated press with the truth known. Stations at web places in m; mm. */
export type SimPress = {
  readonly at_m: readonly number[];
  readonly reference: number;
  /** Scatter of reading one mark, and the jitter of every station and of the reference from check to check. */
  readonly reading_mm: number;
  readonly jitter_mm: number;
  readonly every_m: number;
  readonly rounding_mm: number;
};

/** The press of the prototype's simulation: reference first, five print stations, the die; sigma 0.04 mm. */
export const SEVEN: SimPress = {
  at_m: [1.5, 2.7, 3.9, 5.1, 6.3, 7.5, 9.5],
  reference: 0,
  reading_mm: 0.033,
  jitter_mm: 0.016,
  every_m: 650,
  rounding_mm: 0,
};

export const sigmaOf = (press: SimPress): number => Math.hypot(press.reading_mm, press.jitter_mm, press.jitter_mm);

export const configOf = (press: SimPress, asked = 200, believed_mm = 0.04): WatchConfig => ({
  stations: press.at_m.map((at, k) => ({
    id: String(k + 1),
    path_m: at - (press.at_m[press.reference] ?? 0),
    isReference: k === press.reference,
    measured: k !== press.reference,
  })),
  resolution_mm: press.rounding_mm,
  spread_mm: { along: believed_mm, across: believed_mm },
  spread_worth_checks: 10,
  asked,
});

/** True movement of each station and axis at this check, mm; the reference's own with the others'. */
export type Truth = PerAxis<readonly number[]>;

/** One check read off the press. `reads(k)` says whether station k is read this time; `turned` as in Seen. */
export const readPress = (
  press: SimPress,
  random: Seeded,
  check: number,
  truth: PerAxis<(station: number) => number>,
  reads: (station: number) => boolean = () => true,
  turned: PerAxis<readonly number[]> | null = null,
): Seen => {
  const none = press.at_m.map(() => 0);
  const axis = (name: 'along' | 'across'): Seen['along'] => {
    const reference = press.jitter_mm * random.normal() + truth[name](press.reference);
    const by = turned === null ? none : turned[name];
    return {
      read: press.at_m.map((_, k) => {
        const jitter = press.jitter_mm * random.normal();
        const reading = press.reading_mm * random.normal();
        if (k === press.reference || !reads(k)) return null;
        const value = truth[name](k) + jitter - reference + reading + (by[k] ?? 0);
        return press.rounding_mm > 0 ? Math.round(value / press.rounding_mm) * press.rounding_mm : value;
      }),
      turned: by,
    };
  };
  const along = axis('along');
  return { check, web_m: check * press.every_m, roll_change: false, settling: false, along, across: axis('across') };
};
