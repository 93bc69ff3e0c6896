import { cusumSignalChances } from './cusum-carried.js';
import type { CusumScheme } from './cusum-kernel.js';
import { normalPdf } from './normal.js';
import { pointsFor, type Standing, stepStanding, totalMass } from './run-kernel.js';

/**
 * The mean run length of a two-sided CUSUM while the mean drifts from the first reading.
 * How: the shortcut for steady means does not hold, but what it rests on does: when one sum signals the other stands at
 * zero. So the chance that the upper sum alone would signal at reading n is the chance that it signals first there,
 * plus, over every earlier reading m, the chance that the lower signals first at m times the chance that an upper sum
 * starting from zero after m signals at n; the same the other way. These are solved for the first signals, reading by
 * reading. The chances after m change slowly with m: when there are many they are worked out at some readings and
 * interpolated between (Chebyshev points, barycentric form).
 * In: all in sigmas; the mean of reading t is shift + drift x t. Out: readings, the one that signals counted; NaN where
 * 20,000 readings do not end it.
 * Source: worked out here from K. W. Kemp (1961), JRSS B 23, 149-153; checked by simulation.
 * Example: slack 0.5, decision 4, drift 0.05 a reading: 18.12 (simulation, 400,000 runs: 18.134, s.e. 0.009).
 */
export const cusumBothSidesDrift = (scheme: CusumScheme, shift: number, drift: number, start: number): number => {
  const mean = (t: number): number => Math.sign(drift) * (shift + drift * t);
  const { readings, signalled, standing, total } = whileBothAbove(scheme, mean, start);
  const later = (t: number): number => mean(readings + t);
  const opposite = (t: number): number => -later(t);
  const mirrored = { places: standing.places.map((place) => total - place), mass: standing.mass };
  const first = cusumSignalChances(scheme, later, standing, MOST_READINGS);
  const length = first.length;
  if (length >= MOST_READINGS) return Number.NaN;
  const firstAgainst = new Float64Array(length);
  firstAgainst.set(cusumSignalChances(scheme, opposite, mirrored, length));
  const knots = Math.min(MOST_KNOTS, Math.ceil(10 + 15 * Math.abs(drift) * length));
  const after = chancesAfter(scheme, later, length, knots);
  const afterAgainst = chancesAfter(scheme, opposite, length, knots);
  let sum = signalled;
  for (let n = 1; n <= length; n += 1) {
    const chance = first[n - 1] ?? 0;
    const chanceAgainst = firstAgainst[n - 1] ?? 0;
    sum += (readings + n) * (chance + chanceAgainst);
    takeAway(first, n, chanceAgainst, after);
    takeAway(firstAgainst, n, chance, afterAgainst);
  }
  return sum;
};

/**
 * A head start above half the decision plus the slack: until their total, which falls by twice the slack a reading, has
 * come down, both sums stay above zero and one place tells both. Gives how many readings that takes, the signals on the
 * way (each times its reading) and where the upper sum stands after.
 */
const whileBothAbove = ({ slack, decision }: CusumScheme, mean: (t: number) => number, start: number) => {
  let standing: Standing = { places: [start], mass: [1] };
  let total = 2 * start;
  let signalled = 0;
  let readings = 0;
  for (; total > decision + 2 * slack && readings < MOST_READINGS; readings += 1) {
    const before = totalMass(standing);
    if (before < 1e-14) break;
    total -= 2 * slack;
    const from = total - decision;
    const m = mean(readings + 1);
    const kernel = {
      from,
      to: decision,
      density: (now: number, next: number) => normalPdf(next - now + slack - m),
      signals: () => 0,
    };
    standing = stepStanding(kernel, standing, pointsFor(from, decision, 1));
    signalled += (readings + 1) * (before - totalMass(standing));
  }
  return { readings, signalled, standing, total };
};

const MOST_READINGS = 20_000;
const EVERY_READING = 160;
const MOST_KNOTS = 40;
const AT_ZERO: Standing = { places: [0], mass: [1] };

/** Chances a sum started from zero after reading m signals 1, 2, ... readings later. */
type ChancesAfter = (m: number) => Float64Array;

/** Takes from the sum's own signals after m those that come after the other side signalled first, at m. */
const takeAway = (signals: Float64Array, m: number, share: number, after: ChancesAfter): void => {
  if (Math.abs(share) < 1e-16) return;
  const later = after(m);
  const most = Math.min(later.length, signals.length - m);
  for (let lag = 1; lag <= most; lag += 1) {
    signals[m + lag - 1] = (signals[m + lag - 1] ?? 0) - share * (later[lag - 1] ?? 0);
  }
};

const chancesAfter = (
  scheme: CusumScheme,
  mean: (t: number) => number,
  length: number,
  count: number,
): ChancesAfter => {
  const from = (m: number, most: number): Float64Array => cusumSignalChances(scheme, (t) => mean(m + t), AT_ZERO, most);
  if (length <= EVERY_READING) return (m) => from(m, length - m);
  const angles = Array.from({ length: count }, (_, j) => (Math.PI * (j + 0.5)) / count);
  const knots = angles.map((angle) => (length / 2) * (1 - Math.cos(angle)));
  const table = knots.map((m) => from(m, length));
  return (m) => {
    const parts = angles.map(
      (angle, j) => ((j % 2 === 0 ? 1 : -1) * Math.sin(angle)) / (m - (knots[j] ?? 0) || 1e-300),
    );
    const total = parts.reduce((a, b) => a + b, 0);
    const mixed = new Float64Array(length - m);
    parts.forEach((part, j) => {
      const column = table[j] ?? mixed;
      const most = Math.min(column.length, mixed.length);
      for (let lag = 0; lag < most; lag += 1) mixed[lag] = (mixed[lag] ?? 0) + (part / total) * (column[lag] ?? 0);
    });
    return mixed;
  };
};
