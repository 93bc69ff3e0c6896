import { initial, step } from '../../src/core/drift/watch.js';
import { normalQuantile } from '../../src/core/spc/normal.js';
import { configOf, readPress, SEVEN, type SimPress, sigmaOf } from '../support/press-sim.js';
import { seeded } from '../support/seeded.js';

export const MOVED = ['one station', 'the reference', 'the web'] as const;
export type Moved = (typeof MOVED)[number];
export const SIZES = [1, 1.5, 2, 3] as const;

/** Mean checks to the first notice of the prototype this was built after, at one false notice per 200 checks, and its share of right causes. */
const PROTOTYPE: Readonly<
  Record<Moved, { readonly delay: readonly number[]; readonly right: readonly (number | null)[] }>
> = {
  'one station': { delay: [11.7, 6.0, 3.7, 2.0], right: [93, null, 97, 98] },
  'the reference': { delay: [4.6, 2.4, 1.6, 1.04], right: [84, null, 92, 95] },
  'the web': { delay: [8.1, 4.3, 2.9, 1.55], right: [74, null, 85, 89] },
};

const QUIET = 30;
const LONGEST = 170;
/** Station moved, by its place in the press. */
const STATION = 3;

export type Delay = {
  readonly mean: number;
  readonly error: number;
  readonly right: number;
  /** The same readings on charts of each channel: three-sigma limits, and limits as wide as gives one false signal in 200 checks. */
  readonly threeSigma: number;
  readonly asQuiet: number;
  readonly runs: number;
};

/** Checks from the movement to the first notice, over seeded runs without a false notice before it; three-sigma charts see the same readings. */
export const delayOf = (
  moved: Moved,
  sigmas: number,
  runs: number,
  believed_mm?: number,
  press: SimPress = SEVEN,
): Delay => {
  const config = configOf(press, 200, believed_mm);
  const sigma = sigmaOf(press);
  const far = Math.max(...press.at_m) - (press.at_m[press.reference] ?? 0);
  const random = seeded(2024);
  const delays: number[] = [];
  const plain: number[] = [];
  const quiet: number[] = [];
  // Two axes of channels, each two-sided, one false signal together in 200 checks: normal quantile.
  const wide = normalQuantile(1 - 1 / (200 * 4 * (press.at_m.length - 1)));
  let right = 0;
  for (let run = 0; run < runs; run++) {
    let state = initial(config);
    let told: number | null = null;
    let chart: number | null = null;
    let wideChart: number | null = null;
    let early = false;
    for (let check = 1; check <= QUIET + LONGEST && (told === null || wideChart === null) && !early; check++) {
      const size = check > QUIET ? sigmas * sigma : 0;
      const seen = readPress(press, random, check, {
        along: (k) => truthOf(moved, press, k, size, far),
        across: () => 0,
      });
      if (check > QUIET) {
        const worst = Math.max(largest(seen.along.read), largest(seen.across.read)) / sigma;
        if (chart === null && worst > 3) chart = check - QUIET;
        if (wideChart === null && worst > wide) wideChart = check - QUIET;
      }
      if (told !== null) continue;
      const before = state.nextKey;
      const { state: next, found } = step(config, state, seen);
      state = next;
      if (next.nextKey === before) continue;
      if (check <= QUIET) early = true;
      told = check - QUIET;
      const cause = found.flatMap((f) => f.movements).find((m) => m.key === before)?.cause;
      if (!early && isRight(moved, cause, config.stations[STATION]?.id ?? '')) right += 1;
    }
    if (early) continue;
    delays.push(told ?? LONGEST);
    plain.push(chart ?? LONGEST);
    quiet.push(wideChart ?? LONGEST);
  }
  const mean = average(delays);
  const variance = average(delays.map((d) => (d - mean) ** 2));
  return {
    mean,
    error: Math.sqrt(variance / delays.length),
    right: right / delays.length,
    threeSigma: average(plain),
    asQuiet: average(quiet),
    runs: delays.length,
  };
};

export const benchDelays = (runs: number): readonly string[] => {
  const lines = [
    'Checks to the first notice after a step (30 quiet checks before, scatter learned, both axes watched, asked 1 false notice in 200 checks;',
    'three-sigma charts know the scatter and give a false signal every 31 checks of the press)',
    'moved           sigmas   ours ± s.e.   prototype   ratio   three-sigma charts   charts as quiet as ours   right (prototype)',
  ];
  const ratios: number[] = [];
  for (const moved of MOVED) {
    SIZES.forEach((size, i) => {
      const d = delayOf(moved, size, runs);
      const proto = PROTOTYPE[moved].delay[i] ?? Number.NaN;
      const was = PROTOTYPE[moved].right[i];
      ratios.push(d.mean / proto);
      lines.push(
        `${moved.padEnd(15)} ${String(size).padEnd(8)} ${d.mean.toFixed(2).padStart(5)} ± ${d.error.toFixed(2)}   ${String(proto).padStart(6)}      ${(d.mean / proto).toFixed(2)}    ${d.threeSigma.toFixed(1).padStart(6)}               ${d.asQuiet.toFixed(1).padStart(6)}                    ${(100 * d.right).toFixed(0)} % (${was ?? '–'})`,
      );
    });
  }
  lines.push(
    `mean of the ratios ${average(ratios).toFixed(2)} (at most 1.3), largest ${Math.max(...ratios).toFixed(2)} (at most 1.45)`,
  );
  const known = delayOf('one station', 2, runs, 0.04).mean;
  const half = delayOf('one station', 2, runs, 0.08).mean;
  const twice = delayOf('one station', 2, runs, 0.02).mean;
  lines.push(
    `one station, 2 sigma: scatter half of what the job believed ${half.toFixed(2)} (${(half / known).toFixed(2)} of believing right, at most 1.5), twice ${twice.toFixed(2)}`,
  );
  return lines;
};

const truthOf = (moved: Moved, press: SimPress, k: number, size: number, far: number): number => {
  if (moved === 'one station') return k === STATION ? size : 0;
  if (moved === 'the reference') return k === press.reference ? size : 0;
  return (size * ((press.at_m[k] ?? 0) - (press.at_m[press.reference] ?? 0))) / far;
};

const isRight = (
  moved: Moved,
  cause: { readonly kind: string; readonly station?: string } | undefined,
  station: string,
): boolean => {
  if (cause === undefined) return false;
  if (moved === 'one station') return cause.kind === 'station' && cause.station === station;
  return cause.kind === (moved === 'the reference' ? 'reference' : 'web');
};

const largest = (read: readonly (number | null)[]): number => Math.max(...read.map((r) => Math.abs(r ?? 0)));

const average = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0) / xs.length;
