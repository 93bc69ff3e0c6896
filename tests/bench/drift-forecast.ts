import { forecast } from '../../src/core/drift/forecast.js';
import { initial, step } from '../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, sigmaOf } from '../support/press-sim.js';
import { type Seeded, seeded } from '../support/seeded.js';

export const DRIFTS = ['step', 'ramp', 'walk', 'settling'] as const;
export type Drift = (typeof DRIFTS)[number];

const CHECKS = 120;
const FIRST = 6;
const STATION = 3;

export type Held = {
  readonly held: number;
  readonly forecasts: number;
  /** By fifths of "will be out": said, came true, number. */
  readonly fifths: readonly { readonly said: number; readonly out: number; readonly n: number }[];
};

/** Forecasts of one station's true register at the next check against what came, over seeded runs of one kind of drift. */
export const forecastsOf = (drift: Drift, runs: number, seed = 31): Held => {
  const config = configOf(SEVEN);
  const sigma = sigmaOf(SEVEN);
  const tolerance = 3.75 * sigma;
  const random = seeded(seed);
  let held = 0;
  let forecasts = 0;
  const fifths = Array.from({ length: 5 }, () => ({ said: 0, out: 0, n: 0 }));
  for (let run = 0; run < runs; run++) {
    const { truth, begin } = truthOf(drift, sigma, random);
    let state = initial(config);
    for (let check = 1; check <= CHECKS; check++) {
      const seen = readPress(SEVEN, random, check, {
        along: (k) => (k === STATION ? (truth[check] ?? 0) : 0),
        across: () => 0,
      });
      state = step(config, state, { ...seen, roll_change: drift === 'settling' && check === begin }).state;
      if (check < FIRST) continue;
      const f = forecast(config, state, 'along', String(STATION + 1), (check + 1) * SEVEN.every_m, tolerance);
      if (f === null) continue;
      const came = truth[check + 1] ?? 0;
      forecasts += 1;
      if (came >= f.low_mm && came <= f.high_mm) held += 1;
      const fifth = fifths[Math.min(4, Math.floor(5 * f.p_out))];
      if (fifth === undefined) continue;
      fifth.n += 1;
      fifth.said += f.p_out;
      fifth.out += Math.abs(came) > tolerance ? 1 : 0;
    }
  }
  return { held, forecasts, fifths };
};

export const benchForecast = (runs: number): readonly string[] => {
  const lines = [
    'Forecast of the true register at the next check: 80 % interval held (75–85 % wanted); "out": said → came (n) by fifths (within 0.07 wanted)',
  ];
  const all = DRIFTS.map((d) => forecastsOf(d, runs));
  DRIFTS.forEach((d, i) => {
    const h = all[i];
    if (h !== undefined) lines.push(tell(d, h));
  });
  lines.push(
    tell('together', {
      held: all.reduce((a, h) => a + h.held, 0),
      forecasts: all.reduce((a, h) => a + h.forecasts, 0),
      fifths: [0, 1, 2, 3, 4].map((i) => ({
        said: all.reduce((a, h) => a + (h.fifths[i]?.said ?? 0), 0),
        out: all.reduce((a, h) => a + (h.fifths[i]?.out ?? 0), 0),
        n: all.reduce((a, h) => a + (h.fifths[i]?.n ?? 0), 0),
      })),
    }),
  );
  return lines;
};

const tell = (name: string, h: Held): string =>
  `${name.padEnd(9)} held ${((100 * h.held) / h.forecasts).toFixed(1)} %   ${h.fifths
    .map((f) => (f.n === 0 ? '–' : `${(f.said / f.n).toFixed(2)} → ${(f.out / f.n).toFixed(2)} (${f.n})`))
    .join('   ')}`;

/** Steps of 1–6 sigma, ramps of 0.03–0.2 sigma a check to at most 8 sigma, walks of 0.1–0.4, and 2–6 sigma fading with a time of 3–10 checks. */
const truthOf = (
  drift: Drift,
  sigma: number,
  random: Seeded,
): { readonly truth: readonly number[]; readonly begin: number } => {
  const begin = 10 + Math.floor(70 * random.uniform());
  const sign = random.uniform() < 0.5 ? -1 : 1;
  const a = random.uniform();
  const b = random.uniform();
  let walk = 0;
  const truth: number[] = [];
  for (let t = 0; t <= CHECKS + 1; t++) {
    walk += (0.1 + 0.3 * a) * random.normal();
    const since = t - begin;
    const size =
      drift === 'walk'
        ? walk
        : since < 0
          ? 0
          : drift === 'step'
            ? 1 + 5 * a
            : drift === 'ramp'
              ? Math.min(8, (0.03 + 0.17 * a) * (since + 1))
              : (2 + 4 * a) * Math.exp(-since / (3 + 7 * b));
    truth.push(sign * sigma * size);
  }
  return { truth, begin };
};
