import type { Followed } from './followed.js';
import { EDGE_MM, type PairRead } from './pairs.js';

/** One thing outside tolerance at a check: a reading, a look, or a pair (then the station of it that reads farther off). */
export type Out = {
  readonly station: string;
  readonly pair: readonly [string, string] | null;
  readonly mm: number;
  readonly looked: boolean;
};

/** Stations measured out, looked at and off, then pairs further apart than they may be. */
export const outOn = (now: Followed): readonly Out[] => [
  ...now.measured.flatMap((m): Out[] => {
    const mm = m.mm[now.axis];
    if (mm !== null && Math.abs(mm) > now.toleranceOf(m.station) + EDGE_MM)
      return [{ station: m.station, pair: null, mm, looked: false }];
    const onlyLooked = m.mm.along === null && m.mm.across === null && m.look === 'off' && now.axis === 'along';
    return onlyLooked ? [{ station: m.station, pair: null, mm: 0, looked: true }] : [];
  }),
  ...now.pairs.flatMap((p): Out[] =>
    p.out ? [{ station: farther(now, p), pair: p.stations, mm: p.apart_mm, looked: false }] : [],
  ),
];

/** Of a pair apart, the one that reads farther off its aim. */
const farther = (now: Followed, pair: PairRead): string => {
  const off = (id: string): number => Math.abs(now.measured.find((m) => m.station === id)?.mm[now.axis] ?? 0);
  return off(pair.stations[1]) >= off(pair.stations[0]) ? pair.stations[1] : pair.stations[0];
};
