import { seededNumbers } from '../core/spc/seeded-numbers.js';
import type { PracticeCause } from './cause.js';
import type { Exercise } from './exercise.js';

/** The free run: some 8 km with what the seed brings, every seed another shift, the same for a whole class. */
export const freeRun = (seed: number): Exercise => {
  const { uniform } = seededNumbers(seed * 7919 + 17);
  const pick = <T>(from: readonly T[]): T => from[Math.floor(uniform() * from.length)] ?? (from[0] as T);
  const sign = (): 1 | -1 => (uniform() < 0.5 ? -1 : 1);
  const metres = (from: number, to: number): number => Math.round(from + (to - from) * uniform());
  const hundredths = (from: number, to: number): number => Math.round((from + (to - from) * uniform()) * 100) / 100;
  const print = (): string => pick(['2', '3', '4']);
  const one = (kind: PracticeCause['kind'], from: number, to: number): PracticeCause => {
    const at_m = metres(from, to);
    switch (kind) {
      case 'creep':
        return {
          kind,
          station: pick(['1', '2', '3', '4']),
          axis: 'along',
          from_m: at_m,
          mm_per_km: sign() * hundredths(0.03, 0.05),
          held: true,
        };
      case 'tension':
        return { kind, at_m: SPLICES_M[0], mm_per_m: sign() * hundredths(0.05, 0.07) };
      case 'dirt':
        return { kind, station: print(), from_m: at_m, flaws_per_km: hundredths(0.7, 1.2) };
      case 'misread':
        return { kind, station: print(), axis: 'along', at_m, mm: sign() * hundredths(0.22, 0.35) };
      case 'warm-up':
        return { kind, at_m: 0, mm_per_m: sign() * 0.015, over_m: 2000 };
      case 'unwind':
        return { kind, mm_per_m: sign() * 0.006 };
      default:
        return {
          kind: 'slip',
          station: print(),
          axis: pick(['along', 'across'] as const),
          at_m,
          mm: sign() * hundredths(0.22, 0.4),
        };
    }
  };
  const kinds: readonly PracticeCause['kind'][] = ['slip', 'creep', 'tension', 'dirt', 'misread', 'warm-up', 'unwind'];
  const first = pick(kinds);
  const second = pick(kinds.filter((k) => k !== first));
  const third = pick(kinds.filter((k) => k !== first && k !== second));
  return {
    id: 'free',
    title: 'Free run',
    task: 'A shift on Line B. Nobody says what will move. New stock comes in at 3 000 and 6 000 m.',
    seed,
    make_ready: false,
    standing: false,
    out_mm: {},
    causes: [one(first, 700, 2400), one(second, 3300, 4600), one(third, 5000, 6400)],
    knobs: uniform() < 0.5 ? [{ station: print(), axis: 'across', slack_mm: 0.05 }] : [],
    splices_m: SPLICES_M,
    to_m: 8000,
  };
};

const SPLICES_M = [3000, 6000] as const;
